import { createInterface } from "node:readline/promises";
import type { Forgotten, Library, Player } from "@underfoot/library";
import { type Call, type Command, choice, oneFile } from "../command.ts";
import { LIBRARY_HELP, withLibrary } from "../library-place.ts";
import { countText, jsonText, print } from "../output.ts";
import { playerByCode } from "../player-by-code.ts";

const HELP = `underfoot forget CODE [--yes] [--format table|json] [--library DIR]

Removes a player everywhere: sessions, shots, recordings that nobody else uses, results, history, foot outlines; the
bytes are overwritten and the daily backups made anew. It cannot be undone. Says what it removed, and which backups
still hold the player. On a terminal it asks first.

  --yes               does not ask
${LIBRARY_HELP}

  underfoot forget P07
`;

/** What stands to be removed, for the question. */
async function atStake(library: Library, { id, code }: Player): Promise<string> {
  const shots = await library.shots.find({ playerId: id, limit: 1 });
  const sessions = await library.sessions.list({ playerId: id, limit: 1 });
  return `Removes the player ${code} with ${countText(sessions.total, "session")} and ${countText(shots.total, "shot")} from ${library.folder}. It cannot be undone.`;
}

/** Whether a person at the terminal writes the player's code. */
async function isConfirmed(question: string, code: string): Promise<boolean> {
  const terminal = createInterface({ input: process.stdin, output: process.stderr });
  try {
    const answer = await terminal.question(`${question}\nWrite ${code} to do it, anything else to leave it: `);
    return answer.trim() === code;
  } finally {
    terminal.close();
  }
}

function forgottenText(code: string, gone: Forgotten): string {
  const removed = [
    countText(gone.sessions, "session"),
    countText(gone.shots, "shot"),
    countText(gone.results, "result"),
    countText(gone.findings, "finding"),
    countText(gone.footOutlines, "foot outline"),
    countText(gone.plateChecks, "plate check"),
    countText(gone.historyEntries, "history entry", "history entries"),
    countText(gone.recordings, "recording"),
    ...(gone.settings.length > 0 ? [`the settings ${gone.settings.join(", ")}`] : []),
  ];
  const lines = [
    `${code} is forgotten. Removed: ${removed.join(", ")}.`,
    ...(gone.recordingsShared > 0
      ? [`${countText(gone.recordingsShared, "recording")} stayed: another player's shots are of the same content.`]
      : []),
    ...(gone.backups.length > 0 ? [`Daily backups removed and made anew: ${gone.backups.join(", ")}.`] : []),
    ...(gone.isScrubbed
      ? []
      : ["Another program is reading the library: the freed bytes are overwritten when it is next opened alone."]),
    ...gone.backupsElsewhere.map((file) => `This backup may still hold ${code}; remove it by hand: ${file}`),
    gone.elsewhere,
  ];
  return `${lines.join("\n")}\n`;
}

async function run(call: Call): Promise<number> {
  const code = oneFile(call, "forget CODE");
  const format = choice(call, "format", ["table", "json"], "table");
  return withLibrary(call, {}, async (library) => {
    const player = await playerByCode(library, code);
    if (!call.switches.has("yes")) {
      const question = await atStake(library, player);
      if (!process.stdin.isTTY) {
        process.stderr.write(`${question} Nobody can be asked here; add --yes to do it.\n`);
        return 1;
      }
      if (!(await isConfirmed(question, code))) {
        process.stderr.write("Nothing was removed.\n");
        return 1;
      }
    }
    const gone = await library.forget(player.id);
    await print(format === "json" ? jsonText(gone) : forgottenText(code, gone));
    return 0;
  });
}

export const forget: Command = {
  name: "forget",
  summary: "remove a player everywhere",
  help: HELP,
  options: { yes: { type: "boolean" }, format: { type: "string" }, library: { type: "string" } },
  run,
};
