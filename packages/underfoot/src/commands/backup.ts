import { existsSync, statSync } from "node:fs";
import { resolve } from "node:path";
import { UnderfootError } from "@underfoot/domain";
import { type Call, type Command, choice, oneFile } from "../command.ts";
import { LIBRARY_HELP, withLibrary } from "../library-place.ts";
import { bytesText, countText, jsonText, print, progress, stopSignal } from "../output.ts";

const HELP = `underfoot backup FILE [--format table|json] [--library DIR]

Everything in the library as one file: players, sessions, shots, results, history and every recording. The library may
be used meanwhile; the file is of one moment, and appears under its name only when it is whole. Keep it on another
disk, and treat it as what it is: your players' data.

${LIBRARY_HELP}

  underfoot backup /media/stick/underfoot-2026-03-09.tar
`;

/** A backup never takes the place of another file. */
function freeName(file: string): string {
  const path = resolve(file);
  if (!existsSync(path)) return path;
  const isFolder = statSync(path).isDirectory();
  throw new UnderfootError({
    code: isFolder ? "is-folder" : "file-there",
    sentence: isFolder
      ? `${file} is a folder, not a file.`
      : `${file} is there already, and a backup is written over nothing.`,
    remedy: isFolder
      ? "Name the file to be made in it."
      : "Name another file; remove the old backup yourself when the new one is whole.",
    where: { file },
  });
}

async function run(call: Call): Promise<number> {
  const file = oneFile(call, "backup FILE");
  const format = choice(call, "format", ["table", "json"], "table");
  return withLibrary(call, {}, async (library) => {
    const done = await library.backup(freeName(file), {
      signal: stopSignal(),
      onProgress: (at) => progress(at.done, at.total, "Backed up"),
    });
    const what = `${countText(done.shots, "shot")} and ${countText(done.recordings, "recording")}`;
    await print(
      format === "json"
        ? jsonText(done)
        : `${what} are in ${done.file}, ${bytesText(done.byteCount)}. Each recording was held to its checksum.\n`,
    );
    return 0;
  });
}

export const backup: Command = {
  name: "backup",
  summary: "everything in the library as one file, while it is in use",
  help: HELP,
  options: { format: { type: "string" }, library: { type: "string" } },
  run,
};
