import { UnderfootError, VERSION } from "@underfoot/domain";
import { Hono } from "hono";
import { localOnly } from "./local-only.ts";
import type { PageFiles } from "./page-files.ts";
import type { RecordingEntry, RecordingFolder } from "./recording-folder.ts";

const NOT_FOUND = { code: "not-found", sentence: "There is nothing at this address." };

function shotEntry({ id, sidecar, facts, sentence }: RecordingEntry): object {
  return {
    id,
    file: id,
    sidecar,
    sentence,
    player: facts?.player,
    handed: facts?.handed,
    intent: facts?.intent,
    lie: facts?.lieName,
    pitchDeg: facts?.lie?.pitchDeg,
    rollDeg: facts?.lie?.rollDeg,
    club: facts?.club,
    result: facts?.result,
    keep: facts?.keep,
  };
}

/** Addresses of the server: the page, and one folder of recordings, to be read only. */
export function serverApp({
  folder,
  page,
  isDemo,
}: {
  readonly folder: RecordingFolder;
  readonly page: PageFiles;
  readonly isDemo: boolean;
}): Hono {
  const app = new Hono();
  app.use(localOnly);
  app.onError((fault, c) => {
    if (fault instanceof UnderfootError)
      return c.json({ code: fault.code, sentence: fault.message, remedy: fault.remedy }, 400);
    console.error(fault);
    return c.json(
      {
        code: "our-fault",
        sentence: "Underfoot's server failed on this request. This is our fault.",
        remedy: "Reload the page; if it happens again, report it.",
      },
      500,
    );
  });
  app.get("/api/about", (c) => c.json({ software: "Underfoot", version: VERSION, isDemo, folder: folder.path }));
  app.get("/api/shots", async (c) => c.json((await folder.list()).map(shotEntry)));
  app.get("/api/shots/:id/recording", async (c) => {
    const bytes = await folder.recording(c.req.param("id"));
    if (!bytes) return c.json(NOT_FOUND, 404);
    return c.body(bytes, 200, { "Content-Type": "application/octet-stream", "Cache-Control": "no-cache" });
  });
  app.get("/api/shots/:id/sidecar", async (c) => {
    const text = await folder.sidecar(c.req.param("id"));
    return text === undefined ? c.json(NOT_FOUND, 404) : c.body(text, 200, { "Content-Type": "application/json" });
  });
  app.get("*", (c) => {
    const file = page.get(c.req.path);
    if (!file) return c.json(NOT_FOUND, 404);
    const isNamedByContent = c.req.path.startsWith("/assets/");
    return c.body(file.bytes, 200, {
      "Content-Type": file.type,
      "Cache-Control": isNamedByContent ? "public, max-age=31536000, immutable" : "no-cache",
    });
  });
  app.all("*", (c) =>
    c.json({ code: "read-only", sentence: "This server only gives; nothing can be sent to it." }, 405),
  );
  return app;
}
