import { UnderfootError } from "./fault.ts";

/** Which shots are meant: those of which every given fact holds. Nothing given: all shots. */
export interface ShotsAsked {
  /** These shots only. */
  readonly shotIds?: readonly string[];
  readonly playerId?: string;
  readonly sessionId?: string;
  readonly intent?: string;
  readonly lieName?: string;
  readonly club?: string;
  readonly contact?: string;
  /** YYYY-MM-DD; both days belong to it. */
  readonly fromDay?: string;
  readonly toDay?: string;
  /** Both ends belong to it. */
  readonly pitchDeg?: readonly [number, number];
  readonly rollDeg?: readonly [number, number];
}

const WORDS = ["playerId", "sessionId", "intent", "lieName", "club", "contact", "fromDay", "toDay"] as const;
const RANGES = ["pitchDeg", "rollDeg"] as const;
const KNOWN: readonly string[] = ["shot", ...WORDS, ...RANGES];

const isRange = (name: string): name is (typeof RANGES)[number] => RANGES.some((one) => one === name);

const written = (value: string): string => value.replaceAll("%", "%25").replaceAll(";", "%3B");
const read = (value: string): string => value.replace(/%3B/gi, ";").replaceAll("%25", "%");

function fault(text: string, what: string): UnderfootError {
  return new UnderfootError({
    code: "shot-query",
    sentence: `"${text}" does not say which shots: ${what}.`,
    remedy: `Write facts with = between ; such as intent=low;lieName=flat, or shot=ID. Facts: ${KNOWN.join(", ")}.`,
  });
}

/**
 * Which shots are meant, as one line for an address or a command: `intent=low;lieName=flat`, `shot=ID;shot=ID`. In values `;` is written %3B
 * and `%` %25. Empty: all shots. `shotsAsked` reads it back.
 */
export function shotsAskedText(asked: ShotsAsked): string {
  const shots = (asked.shotIds ?? []).map((id) => `shot=${written(id)}`);
  const words = WORDS.flatMap((name) => {
    const value = asked[name];
    return value === undefined ? [] : [`${name}=${written(value)}`];
  });
  const ranges = RANGES.flatMap((name) => {
    const range = asked[name];
    return range === undefined ? [] : [`${name}=${range[0]},${range[1]}`];
  });
  return [...shots, ...words, ...ranges].join(";");
}

function rangeOf(text: string, name: string, value: string): readonly [number, number] {
  const ends = value.split(",");
  const [from = Number.NaN, to = Number.NaN] = ends.map((end) => (end.trim() === "" ? Number.NaN : Number(end)));
  if (ends.length !== 2 || !Number.isFinite(from) || !Number.isFinite(to) || from > to)
    throw fault(text, `${name} is "${value}" and must be two numbers, the smaller first, such as 1,5`);
  return [from, to];
}

/**
 * Which shots a line means. Spaces around names and values do not count.
 *
 * @throws UnderfootError `shot-query`: a fact that is not known, said twice or empty
 */
export function shotsAsked(text: string): ShotsAsked {
  const shotIds: string[] = [];
  const facts: Record<string, string | readonly [number, number]> = {};
  for (const part of text.split(";")) {
    if (part.trim() === "") continue;
    const at = part.indexOf("=");
    const name = part.slice(0, Math.max(at, 0)).trim();
    const value = read(part.slice(at + 1).trim());
    if (at < 0) throw fault(text, `"${part.trim()}" has no =`);
    if (!KNOWN.includes(name)) throw fault(text, `there is no fact "${name}"`);
    if (value === "") throw fault(text, `${name} is empty`);
    if (name === "shot") shotIds.push(value);
    else if (Object.hasOwn(facts, name)) throw fault(text, `${name} is said twice`);
    else facts[name] = isRange(name) ? rangeOf(text, name, value) : value;
  }
  return { ...(shotIds.length === 0 ? {} : { shotIds: [...new Set(shotIds)] }), ...facts };
}
