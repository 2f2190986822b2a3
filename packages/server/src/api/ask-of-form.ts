import type { z } from "@hono/zod-openapi";
import { parsedJson } from "../refusals/bounded-body.ts";
import { serverFaults, shown } from "../refusals/faults.ts";
import { type Issue, plainIssue } from "../refusals/plain-issue.ts";

/** The recording of a form: its bytes, and its name without folders. */
export async function recordingOfForm(
  part: unknown,
): Promise<{ readonly bytes: Uint8Array<ArrayBuffer>; readonly fileName: string }> {
  if (!(part instanceof File))
    throw serverFaults.wrongRequest('In the form, "recording" must be one file, with its name.');
  const name = shown(part.name.split(/[\\/]/).at(-1) ?? "").trim();
  return { bytes: new Uint8Array(await part.arrayBuffer()), fileName: name === "" ? "recording" : name };
}

/**
 * The part "ask" of a form: JSON of a known shape.
 *
 * @throws UnderfootError with one sentence that names the field
 */
export function askOfForm<S extends z.ZodType>(shape: S, text: string | undefined): z.output<S> {
  const parsed = shape.safeParse(parsedJson(text ?? "{}"));
  if (parsed.success) return parsed.data;
  throw plainIssue("ask", parsed.error.issues as unknown as readonly Issue[]);
}
