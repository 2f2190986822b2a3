import { UnderfootError } from "@underfoot/domain";

/** A failed input as the command's JSON gives it. */
export interface FileFault {
  readonly file: string;
  readonly status: "error";
  readonly code: string;
  readonly sentence: string;
  readonly remedy: string;
}

/**
 * What went wrong with one file, as data, so that the other files go on. A fault that is ours, not the input's, is said to be ours.
 */
export function fileFault(file: string, fault: unknown): FileFault {
  if (fault instanceof UnderfootError)
    return { file, status: "error", code: fault.code, sentence: fault.message, remedy: fault.remedy };
  return {
    file,
    status: "error",
    code: "our-fault",
    sentence: `Underfoot failed on ${file}: ${fault instanceof Error ? fault.message : String(fault)}. This is our fault, not the file's.`,
    remedy: "Please report it with the file, if it may be shared.",
  };
}

/** One line for people on standard error. */
export function faultLine({ file, sentence, remedy }: FileFault): string {
  return `${sentence.includes(file) ? "" : `${file}: `}${sentence} ${remedy}\n`;
}
