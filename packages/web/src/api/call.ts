import type { Address, Answer, Ask } from "@underfoot/protocol";
import { reach } from "./reach.ts";

/** The server said no, or did not answer: one sentence and what to do. */
export class CallFault extends Error {
  override readonly name: string = "CallFault";
  readonly code: string;
  readonly remedy: string;

  constructor({ code, sentence, remedy = "" }: { code: string; sentence: string; remedy?: string | undefined }) {
    super(sentence);
    this.code = code;
    this.remedy = remedy;
  }
}

/** `{id}` and the like replaced, the query behind it; what is undefined is left out, a range is two numbers. */
function addressPath(
  address: Address,
  { params, query }: { readonly params?: unknown; readonly query?: unknown },
): string {
  const path = address.slice(address.indexOf(" ") + 1);
  const parts = Object.entries(params ?? {});
  const filled = parts.reduce(
    (text, [name, value]) => text.replace(`{${name}}`, encodeURIComponent(String(value))),
    path,
  );
  const search = new URLSearchParams();
  for (const [name, value] of Object.entries(query ?? {})) if (value !== undefined) search.set(name, String(value));
  return search.size > 0 ? `${filled}?${search}` : filled;
}

/**
 * Asks the server that gave this page. Typed by the address: what must be given, and what comes back.
 *
 * @throws CallFault with the server's sentence, or `no-answer` where it does not answer
 */
export function call<A extends Address>(
  address: A,
  ...[ask, signal]: Record<never, never> extends Ask<A> ? [Ask<A>?, AbortSignal?] : [Ask<A>, AbortSignal?]
): Promise<Answer<A>> {
  return asked(address, ask ?? {}, signal) as Promise<Answer<A>>;
}

/** The same without the types of one address, for what serves them all. */
export async function asked(
  address: Address,
  ask: {
    readonly params?: unknown;
    readonly query?: unknown;
    readonly json?: unknown;
    readonly form?: FormData | undefined;
  },
  signal?: AbortSignal,
): Promise<unknown> {
  const { params, query, json, form } = ask;
  const response = await answered(addressPath(address, { params, query }), {
    method: address.slice(0, address.indexOf(" ")).toUpperCase(),
    ...(json === undefined ? {} : { body: JSON.stringify(json), headers: { "Content-Type": "application/json" } }),
    ...(form === undefined ? {} : { body: form }),
    ...(signal === undefined ? {} : { signal }),
  });
  return response.json();
}

/** A response that is no refusal. For what is not JSON: the bytes of a recording. */
export async function answered(path: string, init: RequestInit = {}): Promise<Response> {
  const response = await fetch(path, init).catch((cause: unknown) => {
    if (cause instanceof DOMException && cause.name === "AbortError") throw cause;
    reach.note(false);
    throw new CallFault({
      code: "no-answer",
      sentence: "Underfoot on this machine does not answer.",
      remedy: "Start it again in its terminal, then try again. What was stored is safe.",
    });
  });
  reach.note(true);
  if (response.ok) return response;
  const said: unknown = await response.json().catch(() => undefined);
  throw new CallFault(isFault(said) ? said : unsaid(response.status));
}

const unsaid = (status: number) => ({
  code: "no-sentence",
  sentence: `Underfoot on this machine refused with the number ${status} and said nothing else.`,
  remedy: "Load this page anew; if it happens again, report it.",
});

function isFault(value: unknown): value is { code: string; sentence: string; remedy?: string } {
  return (
    typeof value === "object" &&
    value !== null &&
    "code" in value &&
    typeof value.code === "string" &&
    "sentence" in value &&
    typeof value.sentence === "string"
  );
}
