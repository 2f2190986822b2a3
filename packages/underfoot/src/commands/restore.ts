import { resolve } from "node:path";
import { UnderfootError } from "@underfoot/domain";
import { restoreLibrary } from "@underfoot/library";
import { type Call, type Command, choice, oneFile } from "../command.ts";
import { libraryPlace } from "../library-place.ts";
import { countText, jsonText, print, progress, stopSignal } from "../output.ts";
import { UsageFault } from "../usage-fault.ts";

const HELP = `underfoot restore FILE --to DIR [--format table|json]

A backup as a library in a new or empty folder. Every byte is held to its checksum; the folder appears only when the
library is whole, and no other library is touched. With UNDERFOOT_POSTGRES=URL its catalogue goes to that PostgreSQL
server, into an empty database.

  underfoot restore /media/stick/underfoot-2026-03-09.tar --to restored
  underfoot list --library restored
`;

async function run(call: Call): Promise<number> {
  const file = oneFile(call, "restore FILE --to DIR");
  const format = choice(call, "format", ["table", "json"], "table");
  const to = call.values["to"];
  if (to === undefined || to === "")
    throw new UsageFault('Say into which new or empty folder: --to DIR. See "underfoot restore --help".');
  try {
    const { folder, postgresUrl } = await libraryPlace(to);
    const { recordings, madeMs } = await restoreLibrary(resolve(file), folder, {
      postgresUrl,
      signal: stopSignal(),
      onProgress: ({ done, total }) => progress(done, total, "Restored"),
    });
    const made = new Date(madeMs).toISOString();
    const text = `${countText(recordings, "recording")} and all that is said of them are in ${folder}, as they were at ${made}.\nLook at it: underfoot list --library ${to}\n`;
    await print(format === "json" ? jsonText({ folder, recordings, made }) : text);
    return 0;
  } catch (fault) {
    if (!(fault instanceof UnderfootError)) throw fault;
    process.stderr.write(`${fault.message} ${fault.remedy}\n`);
    return 1;
  }
}

export const restore: Command = {
  name: "restore",
  summary: "a backup as a library in a new folder",
  help: HELP,
  options: { to: { type: "string" }, format: { type: "string" } },
  run,
};
