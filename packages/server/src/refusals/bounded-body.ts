import type { MiddlewareHandler } from "hono";
import { bodyLimit } from "hono/body-limit";
import { serverFaults, shown } from "./faults.ts";
import { refusal } from "./refusal.ts";

const MOST_JSON_BYTES = 1_000_000;
const MOST_RECORDING_BYTES = 512 * 1024 * 1024;
const MOST_LEVELS = 64;

/** How deep brackets stand in each other, texts left out; looked at before anything is built from them. */
function depthOf(json: string): number {
  let depth = 0;
  let deepest = 0;
  let isInText = false;
  for (let k = 0; k < json.length; k++) {
    const letter = json[k];
    if (isInText) {
      if (letter === "\\") k++;
      else if (letter === '"') isInText = false;
    } else if (letter === '"') isInText = true;
    else if (letter === "{" || letter === "[") deepest = Math.max(deepest, ++depth);
    else if (letter === "}" || letter === "]") depth--;
  }
  return deepest;
}

/**
 * JSON that somebody sent.
 *
 * @throws UnderfootError not-json, too-deep, null-character
 */
export function parsedJson(text: string): unknown {
  if (depthOf(text) > MOST_LEVELS) throw serverFaults.tooDeep(MOST_LEVELS);
  let hasNull = false;
  let value: unknown;
  try {
    value = JSON.parse(text, (key, item: unknown) => {
      hasNull ||= key.includes("\0") || (typeof item === "string" && item.includes("\0"));
      return item;
    });
  } catch (cause) {
    if (!(cause instanceof SyntaxError)) throw cause;
    throw serverFaults.notJson(text.trim() === "" ? "it is empty" : shown(cause.message));
  }
  if (hasNull) throw serverFaults.nullCharacter("What was sent");
  return value;
}

/**
 * A sidecar's text as it was sent, for its own reader: not too deep for it, and without null characters.
 *
 * @throws UnderfootError too-deep, null-character
 */
export function checkedSidecar(text: string | undefined): string | undefined {
  if (text === undefined) return undefined;
  if (depthOf(text) > MOST_LEVELS) throw serverFaults.tooDeep(MOST_LEVELS);
  if (/\0|\\u0000/.test(text)) throw serverFaults.nullCharacter("The sidecar");
  return text;
}

const limited = (mostBytes: number, inWords: string): MiddlewareHandler =>
  bodyLimit({ maxSize: mostBytes, onError: (c) => refusal(c, serverFaults.tooLarge(inWords)) });

/** The type that the sender says the body has, without its parameters. */
const mediaOf = (contentType: string | undefined): string =>
  (contentType ?? "").split(";")[0]?.trim().toLowerCase() ?? "";

/** Before a route that takes JSON: its size, its type, and that it is JSON at all. */
export const jsonBody: readonly MiddlewareHandler[] = [
  limited(MOST_JSON_BYTES, "1 MB"),
  async (c, next) => {
    const media = mediaOf(c.req.header("content-type"));
    if (media !== "application/json")
      return refusal(
        c,
        serverFaults.wrongMedia(media === "" ? "something without a type" : shown(media), "application/json"),
      );
    // Kept by the request: whoever asks for the JSON afterwards gets it from this text.
    parsedJson(await c.req.text());
    return next();
  },
];

/** Before a route that takes a form with a recording. */
export const formBody: readonly MiddlewareHandler[] = [
  limited(MOST_RECORDING_BYTES, "512 MB"),
  async (c, next) => {
    const media = mediaOf(c.req.header("content-type"));
    return media === "multipart/form-data"
      ? next()
      : refusal(
          c,
          serverFaults.wrongMedia(media === "" ? "something without a type" : shown(media), "multipart/form-data"),
        );
  },
];

/** Before a route that takes no body: what comes all the same is not read. */
export const noBody: readonly MiddlewareHandler[] = [limited(MOST_JSON_BYTES, "1 MB")];

/** Before every route: no null character in the address. */
export const cleanAddress: MiddlewareHandler = async (c, next) =>
  /%00|\0/.test(c.req.url) ? refusal(c, serverFaults.nullCharacter("The address")) : next();
