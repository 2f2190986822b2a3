import { UnderfootError } from "@underfoot/domain";

/** A refusal of the server itself: the status it goes out with stands in `refusalStatus`. */
const fault = (code: string, sentence: string, remedy: string): UnderfootError =>
  new UnderfootError({ code, sentence, remedy });

const SEE = "GET /api on this server says what this address takes.";

/** Every refusal that is the server's own, in one table. */
export const serverFaults = {
  wrongRequest: (sentence: string): UnderfootError => fault("wrong-request", sentence, SEE),
  notJson: (why: string): UnderfootError =>
    fault("not-json", `What was sent cannot be read as JSON (${why}).`, "Send one JSON object in UTF-8."),
  tooDeep: (most: number): UnderfootError =>
    fault("too-deep", `What was sent is nested more than ${most} levels deep.`, "Send it flatter."),
  nullCharacter: (where: string): UnderfootError =>
    fault("null-character", `${where} holds a null character.`, "Send it without."),
  wrongMedia: (found: string, wanted: string): UnderfootError =>
    fault("wrong-media", `This address takes ${wanted}, not ${found}.`, `Set Content-Type to ${wanted}.`),
  notForm: (): UnderfootError =>
    fault(
      "not-form",
      "What was sent cannot be read as a form of several parts.",
      "Send multipart/form-data with its boundary, as browsers and curl -F do.",
    ),
  tooLarge: (most: string): UnderfootError =>
    fault("too-large", `More than ${most} was sent; that is the most this address takes.`, "Send less at once."),
  nothingHere: (path: string): UnderfootError =>
    fault("nothing-here", `There is nothing at ${shown(path)}.`, "GET /api on this server lists all addresses."),
  wrongMethod: (method: string, path: string, allowed: readonly string[]): UnderfootError =>
    fault("wrong-method", `${shown(method)} is not done at ${shown(path)}.`, `Use ${allowed.join(" or ")}.`),
  hostRefused: (host: string): UnderfootError =>
    fault(
      "host-refused",
      `This server answers on this machine only, not as "${shown(host)}".`,
      "Open the address it said when it was started.",
    ),
  originRefused: (): UnderfootError =>
    fault(
      "origin-refused",
      "Another page asked for these players' data; it gets nothing.",
      "Open Underfoot's own page, or ask without a browser.",
    ),
  notUpgraded: (): UnderfootError =>
    fault("not-a-socket", "Changes are told over a WebSocket only.", "Connect to ws: at this address."),
  codeDiffers: (): UnderfootError =>
    fault(
      "code-differs",
      "The code given is not the player's code, so nobody was forgotten.",
      "Give the code as it stands at the player, in ?code=.",
    ),
  noFacts: (id: string): UnderfootError =>
    fault("no-facts", `Nobody has said the facts of the shot ${id} yet.`, "Say them: PUT /api/shots/{id}/facts."),
  noLie: (name: string): UnderfootError =>
    fault(
      "no-lie",
      `The session's plan has no lie "${shown(name)}".`,
      "Name one of the plan's lies, or write this one into the plan first.",
    ),
  noJob: (id: string): UnderfootError =>
    fault("no-job", `There is no work ${id} since this server was started.`, "GET /api/jobs lists what there is."),
  jobRunning: (what: string): UnderfootError =>
    fault("job-running", `One thing at a time: ${what} is under way.`, "Wait for its end, or cancel it."),
  jobEnded: (): UnderfootError => fault("job-ended", "This work has ended already.", "Nothing is to be cancelled."),
  notWholePath: (path: string): UnderfootError =>
    fault("not-whole-path", `"${shown(path)}" is no whole path on this machine.`, "Give it from the root of the disk."),
  fileThere: (file: string): UnderfootError =>
    fault(
      "file-there",
      `${file} is there already, and a backup is written over nothing.`,
      "Name another file; remove the old one yourself once the new one is whole.",
    ),
  noFileThere: (file: string): UnderfootError =>
    fault("no-file-there", `There is no file ${file}.`, "Check its name, and that its disk is connected."),
  otherThings: (folder: string): UnderfootError =>
    fault(
      "other-things",
      `The folder ${folder} holds other things and no library.`,
      "Choose the folder of a library, or a new or empty one.",
    ),
  folderUnreadable: (folder: string, cause: NodeJS.ErrnoException): UnderfootError =>
    fault(
      "folder-unreadable",
      `The folder ${shown(folder)} cannot be read (${cause.code ?? cause.message}).`,
      "Check its name and who may read it.",
    ),
  notRemembered: (folder: string, cause: unknown): UnderfootError =>
    fault(
      "not-remembered",
      `That the library lies at ${shown(folder)} could not be noted down (${cause instanceof Error ? cause.message : String(cause)}), so the one before stays open.`,
      "Allow this user to write in Underfoot's data folder, or start with --library.",
    ),
  demoStays: (): UnderfootError =>
    fault(
      "demo-stays",
      "The demo shows invented players and stays in its own library.",
      'Stop it and start "underfoot serve" for real ones.',
    ),
  noSetting: (name: string): UnderfootError =>
    fault("no-setting", `There is no setting "${shown(name)}".`, "GET /api/settings lists all of them."),
  wrongSetting: (name: string, wanted: string): UnderfootError =>
    fault("wrong-setting", `The setting "${name}" must be ${wanted}.`, "GET /api/settings shows the default."),
  ourFault: (): UnderfootError =>
    fault(
      "our-fault",
      "Underfoot's server failed on this request. This is our fault.",
      "Reload the page; if it happens again, report it.",
    ),
} as const;

/** Other people's text as it may stand in a sentence: short, on one line. */
export function shown(text: string): string {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is taken out.
  const line = text.replace(/[\u0000-\u001f\u007f]+/g, " ");
  return line.length > 80 ? `${line.slice(0, 80)}...` : line;
}
