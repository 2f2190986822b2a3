import { existsSync } from "node:fs";
import { resolve } from "node:path";
import type { VerifyReport } from "@underfoot/library";
import { type Call, type Command, choice, noFiles } from "../command.ts";
import { LIBRARY_HELP, withLibrary } from "../library-place.ts";
import { countText, jsonText, print, progress, stopSignal } from "../output.ts";
import { UsageFault } from "../usage-fault.ts";

const HELP = `underfoot verify [--mend] [--backup FILE] [--format table|json] [--library DIR]

Holds every recording to its checksum and every row to what it names, and says what is wrong. Without --mend nothing
is changed.

  --mend              mends what can be mended: a damaged recording from a backup, lists and numbers from what they
                      follow from; a whole recording that no shot names is taken in as a shot
  --backup FILE       where sound copies may be had; as left out: the daily backups
${LIBRARY_HELP}

Exit code: 0 all is well or was mended, 1 something is wrong, 2 wrong usage.
`;

function verifyText({ recordings, shots, findings, leftovers }: VerifyReport): string {
  const open = findings.filter(({ isMended }) => !isMended).length;
  const mended = findings.length - open;
  const ends = [
    ...(mended > 0 ? [`${countText(mended, "fault")} mended`] : []),
    ...(open > 0 ? [`${countText(open, "fault")} left:`] : ["nothing is wrong"]),
  ];
  return [
    `${countText(recordings, "recording")} and ${countText(shots, "shot")} looked at; ${ends.join("; ")}${open > 0 ? "" : "."}\n`,
    ...findings.map(
      ({ severity, sentence, remedy, isMended }) =>
        `  ${isMended ? "mended" : severity}: ${sentence}${remedy === "" ? "" : ` ${remedy}`}\n`,
    ),
    ...(leftovers.length > 0
      ? [
          `${countText(leftovers.length, "file")} left by imports that were stopped before they were acknowledged; no fault. --mend takes in the whole ones once they are ten minutes old.\n`,
        ]
      : []),
  ].join("");
}

async function run(call: Call): Promise<number> {
  noFiles(call, "verify");
  const format = choice(call, "format", ["table", "json"], "table");
  const named = call.values["backup"];
  if (named !== undefined && !existsSync(named)) throw new UsageFault(`--backup ${named} is not there.`);
  return withLibrary(call, {}, async (library) => {
    const report = await library.verify({
      mend: call.switches.has("mend"),
      signal: stopSignal(),
      onProgress: ({ done, total }) => progress(done, total, "Checked"),
      ...(named === undefined ? {} : { backups: [resolve(named)] }),
    });
    await print(format === "json" ? jsonText(report) : verifyText(report));
    return report.findings.some(({ isMended, severity }) => !isMended && severity !== "note") ? 1 : 0;
  });
}

export const verify: Command = {
  name: "verify",
  summary: "check every recording and every row, and mend what can be mended",
  help: HELP,
  options: {
    mend: { type: "boolean" },
    backup: { type: "string" },
    format: { type: "string" },
    library: { type: "string" },
  },
  run,
};
