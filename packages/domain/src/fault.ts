/** Where something went wrong: whichever parts are known. */
export interface Where {
  readonly file?: string;
  readonly line?: number;
  readonly column?: string;
  readonly channel?: string;
  readonly plate?: number;
  readonly shot?: string;
  readonly event?: string;
}

export type Severity = "note" | "caution" | "stop";

/** The input is usable but something must be said. Stored and shown with the result it belongs to. */
export interface Finding {
  readonly code: string;
  readonly severity: Severity;
  /** One sentence: what is so, where, with its numbers. */
  readonly sentence: string;
  /** One sentence: what the user can do about it. */
  readonly remedy: string;
  readonly where?: Where;
}

export interface Fault {
  readonly code: string;
  readonly sentence: string;
  readonly remedy: string;
  readonly where?: Where;
  readonly cause?: unknown;
}

/** The task cannot be done: a stable code, one sentence with the numbers in it, and what to do next. */
export class UnderfootError extends Error {
  override readonly name: string = "UnderfootError";
  readonly code: string;
  readonly remedy: string;
  readonly where: Where;

  constructor(fault: Fault) {
    super(fault.sentence, { cause: fault.cause });
    this.code = fault.code;
    this.remedy = fault.remedy;
    this.where = fault.where ?? {};
  }
}
