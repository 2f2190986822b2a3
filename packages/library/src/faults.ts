import { UnderfootError } from "@underfoot/domain";

const fault = (code: string, sentence: string, remedy: string, file?: string, cause?: unknown): UnderfootError =>
  new UnderfootError({
    code: `library-${code}`,
    sentence,
    remedy,
    ...(file === undefined ? {} : { where: { file } }),
    cause,
  });

const NOTHING_LOST = "What was stored before is untouched.";

/** Every fault of the library, in one table. */
export const libraryFaults = {
  notThere: (what: string, id: string): UnderfootError =>
    fault("not-there", `There is no ${what} ${id} in this library.`, "List what there is, and choose from it."),
  taken: (what: string, value: string): UnderfootError =>
    fault("taken", `There is already a ${what} ${value}.`, "Choose another, or change the one that is there."),
  wrong: (what: string, remedy: string): UnderfootError => fault("wrong", what, remedy),
  inUse: (what: string, by: string): UnderfootError =>
    fault("in-use", `${what} cannot be removed: ${by}.`, "Move or remove those first."),
  diskFull: (file: string, cause: unknown): UnderfootError =>
    fault(
      "disk-full",
      `The disk is full: ${file} could not be written. ${NOTHING_LOST}`,
      "Free some space, then do it again.",
      file,
      cause,
    ),
  readOnly: (file: string, cause: unknown): UnderfootError =>
    fault(
      "read-only",
      `${file} may not be written: the disk or the folder is read-only. ${NOTHING_LOST}`,
      "Allow this user to write there, or choose another storage place in Settings.",
      file,
      cause,
    ),
  unwritable: (file: string, why: string, cause: unknown): UnderfootError =>
    fault(
      "unwritable",
      `${file} could not be written (${why}). ${NOTHING_LOST}`,
      "Check the disk and its cable, then do it again.",
      file,
      cause,
    ),
  unreadable: (file: string, why: string, cause: unknown): UnderfootError =>
    fault("unreadable", `${file} could not be read (${why}).`, "Check the disk, then run verify.", file, cause),
  busy: (file: string, cause: unknown): UnderfootError =>
    fault(
      "busy",
      `Another program kept the library ${file} busy for too long. ${NOTHING_LOST}`,
      "Wait until it is done, then do it again.",
      file,
      cause,
    ),
  damaged: (file: string, why: string, cause: unknown): UnderfootError =>
    fault(
      "damaged",
      `The catalogue ${file} is damaged or no catalogue (${why}).`,
      "Keep the folder as it is, and restore the last backup into another folder.",
      file,
      cause,
    ),
  newer: (file: string, found: string): UnderfootError =>
    fault(
      "newer",
      `The library ${file} was made by a newer Underfoot (its step ${found} is unknown here).`,
      "Open it with that version or a newer one.",
      file,
    ),
  unreachable: (where: string, cause: unknown): UnderfootError =>
    fault(
      "unreachable",
      `The PostgreSQL server ${where} does not answer. ${NOTHING_LOST}`,
      "Check that it runs, and its address, user and password.",
      undefined,
      cause,
    ),
  recordingLost: (sha256: string, why: string): UnderfootError =>
    fault(
      "recording-lost",
      `The recording ${sha256.slice(0, 12)} ${why}.`,
      "Run verify: it says what is wrong and mends it from a backup where one has it.",
    ),
  changedSince: (what: string): UnderfootError =>
    fault(
      "changed-since",
      `This cannot be undone: ${what} was changed again since.`,
      "Undo the later change first; the history shows it.",
    ),
  alreadyUndone: (): UnderfootError =>
    fault("already-undone", "This change has been undone already.", "Undo its undoing to bring it back."),
  notEmpty: (folder: string): UnderfootError =>
    fault("not-empty", `The folder ${folder} is not empty.`, "Name a new or empty folder to restore into.", folder),
  notBackup: (file: string, why: string): UnderfootError =>
    fault(
      "not-backup",
      `${file} is no whole Underfoot backup: ${why}.`,
      "Take another backup; this one is left as it is.",
      file,
    ),
  noneAgreed: (name: string): UnderfootError =>
    fault(
      "none-agreed",
      `There is no shot in "${name}" of a player who agreed to studies.`,
      "Ask for other shots, or note the player's consent on the player's page.",
    ),
  cancelled: (): UnderfootError =>
    fault("cancelled", "Stopped as asked. What was done until then stays.", "Start it again to go on."),
} as const;

const reason = (cause: unknown): string =>
  typeof cause === "object" && cause !== null && "code" in cause ? String(cause.code) : String(cause);

/** A fault of the disk as a sentence; a fault that is a sentence already stays. */
export function diskFault(file: string, cause: unknown, deed: "read" | "written"): UnderfootError {
  if (cause instanceof UnderfootError) return cause;
  const code = reason(cause);
  if (code === "ENOSPC" || code === "EDQUOT" || code === "EFBIG") return libraryFaults.diskFull(file, cause);
  if (deed === "written" && (code === "EROFS" || code === "EACCES" || code === "EPERM"))
    return libraryFaults.readOnly(file, cause);
  return deed === "read" ? libraryFaults.unreadable(file, code, cause) : libraryFaults.unwritable(file, code, cause);
}

/** SQLite's primary result codes (sqlite.org/rescode.html). */
const SQLITE = {
  busy: 5,
  locked: 6,
  readOnly: 8,
  ioError: 10,
  corrupt: 11,
  full: 13,
  cannotOpen: 14,
  notDatabase: 26,
} as const;

/** PostgreSQL's classes of errors (PostgreSQL documentation, appendix A): the first two letters, or all five. */
const POSTGRES = {
  connection: "08",
  diskFull: "53100",
  shutDown: "57P",
  readOnly: "25006",
  lockTimeout: "55P03",
} as const;

/** The system's own words for a server that does not answer. */
const NO_ANSWER = ["ECONNREFUSED", "ECONNRESET", "ENOTFOUND", "ETIMEDOUT", "EPIPE", "EHOSTUNREACH"];

/** A fault of the server as a sentence; other errors, which are ours, stay as they are. */
export function postgresFault(place: string, cause: unknown): unknown {
  if (!(cause instanceof Error) || cause instanceof UnderfootError) return cause;
  const code = "code" in cause ? String(cause.code) : "";
  if (code === POSTGRES.diskFull) return libraryFaults.diskFull(place, cause);
  if (code === POSTGRES.readOnly) return libraryFaults.readOnly(place, cause);
  if (code === POSTGRES.lockTimeout) return libraryFaults.busy(place, cause);
  const isGone = /Connection terminated|not queryable/.test(cause.message) || NO_ANSWER.includes(code);
  if (isGone || code.startsWith(POSTGRES.connection) || code.startsWith(POSTGRES.shutDown))
    return libraryFaults.unreachable(place, cause);
  return cause;
}

/** A fault of the embedded catalogue as a sentence; other errors, which are ours, stay as they are. */
export function sqliteFault(file: string, cause: unknown): unknown {
  if (!(cause instanceof Error) || !("errcode" in cause) || typeof cause.errcode !== "number") return cause;
  switch (cause.errcode & 0xff) {
    case SQLITE.full:
      return libraryFaults.diskFull(file, cause);
    case SQLITE.readOnly:
      return libraryFaults.readOnly(file, cause);
    case SQLITE.ioError:
    case SQLITE.cannotOpen:
      return libraryFaults.unwritable(file, cause.message, cause);
    case SQLITE.busy:
    case SQLITE.locked:
      return libraryFaults.busy(file, cause);
    case SQLITE.corrupt:
    case SQLITE.notDatabase:
      return libraryFaults.damaged(file, cause.message, cause);
    default:
      return cause;
  }
}
