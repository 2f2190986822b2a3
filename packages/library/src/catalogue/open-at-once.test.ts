import { once } from "node:events";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { Worker } from "node:worker_threads";
import { expect, test } from "vitest";

const OPENER = `
const { workerData, parentPort } = require("node:worker_threads");
import(workerData.catalogue).then(({ openCatalogue }) => {
  parentPort.on("message", async ({ folder, atMs }) => {
    while (Date.now() < atMs) {}
    try {
      await (await openCatalogue({ folder })).close();
      parentPort.postMessage("open");
    } catch (fault) {
      parentPort.postMessage(String(fault));
    }
  });
  parentPort.postMessage("ready");
});
`;

// SQLite refuses the change to its write-ahead journal at once where another connection makes it in the same moment:
// without trying again about one opening in ten was refused here.
test("three that make one new library in the same moment all get it", async () => {
  const folders = Array.from({ length: 25 }, () => mkdtempSync(join(tmpdir(), "underfoot-at-once-")));
  const catalogue = join(import.meta.dirname, "catalogue.ts");
  const openers = Array.from({ length: 3 }, () => new Worker(OPENER, { eval: true, workerData: { catalogue } }));
  try {
    await Promise.all(openers.map((opener) => once(opener, "message")));
    for (const folder of folders) {
      const answers = openers.map((opener) => once(opener, "message"));
      const atMs = Date.now() + 4;
      for (const opener of openers) opener.postMessage({ folder, atMs });
      expect((await Promise.all(answers)).flat()).toEqual(["open", "open", "open"]);
    }
  } finally {
    await Promise.all(openers.map((opener) => opener.terminate()));
    for (const folder of folders) rmSync(folder, { recursive: true, force: true });
  }
});
