// Every version's library opens in this one, with all that was in it. A new version adds a file (tools/golden-library.ts).
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { gunzipSync } from "node:zlib";
import { describe, expect, test } from "vitest";
import { migrations } from "../catalogue/migrations.ts";
import { openLibrary, restoreLibrary } from "../index.ts";

const golden = join(import.meta.dirname, "../../../../golden/library");
const names = readdirSync(golden).filter((name) => name.endsWith(".tar.gz"));

test("there is a golden library of every migration", () => {
  expect(names.map((name) => name.slice(0, 4)).sort()).toEqual(Object.keys(migrations("sqlite")));
  expect(Object.keys(migrations("sqlite"))).toEqual(names.map((_, k) => String(k + 1).padStart(4, "0")));
});

describe.each(names)("the library of step %s", (name) => {
  test("opens, is whole, and holds what it held", async () => {
    const root = mkdtempSync(join(tmpdir(), "underfoot-golden-"));
    try {
      writeFileSync(join(root, "backup.tar"), gunzipSync(readFileSync(join(golden, name))));
      await restoreLibrary(join(root, "backup.tar"), join(root, "library"));
      const library = await openLibrary({ folder: join(root, "library") });
      expect(await library.verify()).toMatchObject({ findings: [], leftovers: [], recordings: 2, shots: 2 });
      expect(await library.players.list()).toMatchObject([
        { code: "P01", massKg: 64.5, consent: "study", shoes: "flat soles" },
      ]);
      const { rows } = await library.shots.find({ intent: "stock", lieName: "flat" });
      expect(rows).toMatchObject([{ label: "kept", ordinal: 1, day: "2026-03-09", worstSeverity: "caution" }]);
      const { findings, facts } = await library.shots.byId(rows[0]!.id);
      expect(facts?.club).toBe("wedge 56");
      expect(findings.map(({ code }) => code)).toContain("plate-check-failed");
      expect((await library.shots.history(rows[0]!.id)).map(({ deed }) => deed)).toEqual([
        "undid: labelled the shot a mishit",
        "labelled the shot a mishit",
        expect.stringContaining("brought in"),
      ]);
      const result = await library.results.get(rows[0]!.id);
      expect(result?.values.get("lead.share.at.impact")?.value).toBeGreaterThan(50);
      expect((await library.players.outlines((await library.players.list())[0]!.id))[0]?.outline.outline).toHaveLength(
        3,
      );
      expect(await library.settings.read("theme")).toBe("dusk");
      await library.shots.label(rows[0]!.id, "set-aside");
      await library.close();
    } finally {
      rmSync(root, { recursive: true, force: true });
    }
  });
});

test("a library of a later version is refused with a sentence, not misread", async () => {
  const root = mkdtempSync(join(tmpdir(), "underfoot-golden-"));
  const { DatabaseSync } = await import("node:sqlite");
  try {
    await openLibrary({ folder: root }).then((library) => library.close());
    const raw = new DatabaseSync(join(root, "catalogue.sqlite"));
    raw.exec("insert into kysely_migration (name, timestamp) values ('0999', '2030-01-01')");
    raw.close();
    await expect(openLibrary({ folder: root })).rejects.toMatchObject({ code: "library-newer" });
  } finally {
    rmSync(root, { recursive: true, force: true });
  }
});
