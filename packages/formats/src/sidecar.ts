import {
  EVENT_NAMES,
  type Finding,
  type FootOutlineFact,
  type Lie,
  type PlateFact,
  type ShotFacts,
  type ShotResult,
  type Vector,
  type Where,
} from "@underfoot/domain";
import { isJsonObject, isNumbers, type JsonFields, jsonFields, jsonShown } from "./json-fields.ts";
import { present } from "./present.ts";
import { sidecarFaults, sidecarFindingTable } from "./sidecar-faults.ts";

/** Taken where a slope carries no sd, degrees (common practice, no source). */
const LIE_SD_DEG = 0.2;

/** Named by the schema but not part of the facts: checked, then kept with the unknown fields. */
const KEPT_AS_WRITTEN = ["video"] as const;

type Event = ShotFacts["events"][number];
export const plateKey = (fact: PlateFact): string => `${fact.plate}`;
export const footKey = (fact: FootOutlineFact): string => fact.foot;
export const eventKey = (fact: Event): string => `${fact.event} ${fact.source}`;

/** The same keys, a repeated one with its count behind it: "lead", "lead 2". */
export function distinctKeys(keys: readonly string[]): readonly string[] {
  const seen = new Map<string, number>();
  return keys.map((key) => {
    const count = (seen.get(key) ?? 0) + 1;
    seen.set(key, count);
    return count === 1 ? key : `${key} ${count}`;
  });
}

/** Fields that the facts have no place for, by the object they stood in. */
type UnknownFields = Record<string, unknown>;

/**
 * The facts of a shot from the text of its sidecar (version 1, docs/formats/sidecar.md).
 *
 * Points of two numbers get z = 0. Fields without a place in the facts are kept in `facts.unknown`: those of the sidecar
 * itself under their own names, those of `slope`, `recording`, `mass`, `result` under the object's name, those of a list
 * under the list's name and then the entry's key ("2" for plate 2, "lead", "impact marked").
 *
 * @param where  the sidecar's file, for sentences
 * @throws UnderfootError sidecar-not-json, sidecar-not-shot, sidecar-version, sidecar-field (the first fault in the
 *         sentence, the others in the remedy)
 */
export function shotFactsFromSidecar(text: string, where: Where = {}): { facts: ShotFacts; findings: Finding[] } {
  const root = sidecarObject(text, where);
  const faults: string[] = [];
  const fields = jsonFields(root, "", faults);
  const unknown: UnknownFields = {};
  const facts = factsFrom(fields, unknown);
  checkVideos(fields);
  const [first, ...others] = faults;
  if (first !== undefined) throw sidecarFaults.field([first, ...others], where);

  const spare = fields.rest().filter(([name]) => !name.startsWith("$"));
  const unknownPaths = [...spare.map(([name]) => name), ...nestedPaths(unknown)];
  const kept: UnknownFields = Object.fromEntries([
    ...Object.entries(unknown),
    ...fields.rest(),
    ...KEPT_AS_WRITTEN.filter((name) => Object.hasOwn(root, name)).map((name) => [name, root[name]]),
  ]);
  const findings: Finding[] = [];
  if (isJsonObject(root["slope"]) && root["slope"]["sd"] === undefined) {
    findings.push(sidecarFindingTable.lieSd(LIE_SD_DEG, where));
  }
  if (unknownPaths.length > 0) findings.push(sidecarFindingTable.unknownField(unknownPaths, where));
  return { facts: Object.keys(kept).length > 0 ? { ...facts, unknown: kept } : facts, findings };
}

function sidecarObject(text: string, where: Where): Readonly<Record<string, unknown>> {
  let root: unknown;
  try {
    root = JSON.parse(text.startsWith("\uFEFF") ? text.slice(1) : text);
  } catch (cause) {
    if (!(cause instanceof SyntaxError)) throw cause;
    throw sidecarFaults.notJson(text.trim() === "" ? "it is empty" : cause.message.replace(/\s+/g, " "), where, cause);
  }
  if (!isJsonObject(root)) throw sidecarFaults.notShot("missing", where);
  if (root["underfoot"] !== "shot") throw sidecarFaults.notShot(jsonShown(root["underfoot"]), where);
  if (root["version"] !== 1) throw sidecarFaults.version(jsonShown(root["version"]), where);
  return root;
}

// Where a required field is missing or wrong, a placeholder stands in its place: the fault is recorded, so nobody sees it.
function factsFrom(fields: JsonFields, unknown: UnknownFields): ShotFacts {
  fields.need("handed", "target", "plates");
  for (const name of ["underfoot", "version"]) fields.raw(name);
  const recording = fields.object("recording");
  recording?.need("file");
  const sha256 = recording?.text("sha256");
  if (sha256 !== undefined && !/^[0-9a-f]{64}$/.test(sha256)) {
    recording?.fault("sha256", `is ${jsonShown(sha256)}; it must be 64 lower-case hexadecimal digits`);
  }
  const facts = present<ShotFacts>({
    recordingFile: recording?.text("file"),
    recordingSha256: sha256,
    player: fields.text("player"),
    handed: fields.oneOf("handed", ["right", "left"]) ?? "right",
    target: direction(fields, "target") ?? { x: 0, y: 0, z: 0 },
    up: direction(fields, "up"),
    lie: lieFrom(fields.object("slope"), unknown),
    plates: listOf(fields.objects("plates", 1, 4), unknown, "plates", plateFrom, plateKey),
    feet: listOf(fields.objects("feet"), unknown, "feet", footFrom, footKey),
    ballM: point(fields, "ball"),
    mass: massFrom(fields.object("mass"), unknown),
    padM: fields.number("pad", { least: 0, most: 0.5 }),
    latitudeDeg: fields.number("latitude", { least: -90, most: 90 }),
    heightM: fields.number("height", { least: -500, most: 9000 }),
    events: listOf(fields.objects("events"), unknown, "events", eventFrom, eventKey),
    intent: fields.text("intent"),
    lieName: fields.text("lie"),
    club: fields.text("club"),
    result: resultFrom(fields.object("result"), unknown),
    keep: fields.oneOf("keep", ["kept", "set-aside"]) ?? "kept",
    note: fields.text("note"),
  });
  keepRest(recording, unknown, "recording");
  return facts;
}

function keepRest(fields: JsonFields | undefined, into: UnknownFields, name: string): void {
  const rest = fields?.rest() ?? [];
  if (rest.length > 0) into[name] = Object.fromEntries(rest);
}

/** Each entry read by `read`; what it did not ask for is kept under the list's name and the entry's key. */
function listOf<T>(
  entries: readonly JsonFields[] | undefined,
  unknown: UnknownFields,
  name: string,
  read: (fields: JsonFields, unknown: UnknownFields) => T,
  keyOf: (fact: T) => string,
): readonly T[] {
  const parts = (entries ?? []).map((fields) => {
    const inner: UnknownFields = {};
    const fact = read(fields, inner);
    return { fact, rest: Object.fromEntries([...Object.entries(inner), ...fields.rest()]) };
  });
  const keys = distinctKeys(parts.map(({ fact }) => keyOf(fact)));
  const kept = parts.flatMap(({ rest }, k) => (Object.keys(rest).length > 0 ? [[keys[k] ?? "", rest] as const] : []));
  if (kept.length > 0) unknown[name] = Object.fromEntries(kept);
  return parts.map(({ fact }) => fact);
}

function nestedPaths(unknown: UnknownFields): readonly string[] {
  return Object.entries(unknown).flatMap(([name, inner]) =>
    isJsonObject(inner) ? Object.keys(inner).map((key) => `${name}.${key}`) : [],
  );
}

function vectorOf([x, y, z]: readonly number[]): Vector {
  return { x: x ?? 0, y: y ?? 0, z: z ?? 0 };
}

function direction(fields: JsonFields, name: string): Vector | undefined {
  const numbers = fields.numbers(name, 3, 3);
  if (numbers === undefined) return undefined;
  if (numbers.every((one) => one === 0)) fields.fault(name, "is [0,0,0]; a direction needs a length greater than 0");
  return vectorOf(numbers);
}

function point(fields: JsonFields, name: string): Vector | undefined {
  const numbers = fields.numbers(name, 2, 3);
  return numbers === undefined ? undefined : vectorOf(numbers);
}

function lieFrom(fields: JsonFields | undefined, unknown: UnknownFields): Lie | undefined {
  if (fields === undefined) return undefined;
  fields.need("pitch", "roll");
  const lie = {
    pitchDeg: fields.number("pitch", { least: -30, most: 30 }) ?? 0,
    rollDeg: fields.number("roll", { least: -30, most: 30 }) ?? 0,
    source: fields.oneOf("source", ["inclinometer", "stance", "assumed"]) ?? "assumed",
    sdDeg: fields.number("sd", { above: 0 }) ?? LIE_SD_DEG,
  };
  keepRest(fields, unknown, "slope");
  return lie;
}

function plateFrom(fields: JsonFields, unknown: UnknownFields): PlateFact {
  fields.need("plate", "foot");
  const clock = fields.object("clock");
  const fact = present<PlateFact>({
    plate: fields.number("plate", { least: 1, isWhole: true }) ?? 1,
    foot: fields.oneOf("foot", ["lead", "trail", "both", "none"]) ?? "none",
    sense: fields.oneOf("sense", ["on-player", "on-plate"]),
    originSign: fields.oneOf("originSign", ["as-written", "turned"]),
    type: fields.number("type", { isWhole: true }),
    zero: zeroFrom(fields),
    clock: clock && {
      offsetS: clock.number("offset") ?? 0,
      drift: clock.number("drift") ?? 0,
      sdS: clock.number("sd") ?? 0,
    },
  });
  keepRest(clock, unknown, "clock");
  return fact;
}

function zeroFrom(fields: JsonFields): PlateFact["zero"] {
  const zero = fields.raw("zero");
  if (zero === undefined || zero === "none") return zero;
  if (isNumbers(zero, 2, 2)) return [zero[0] ?? 0, zero[1] ?? 0];
  fields.fault("zero", `is ${jsonShown(zero)}; it must be "none" or two times in seconds, as [0, 0.5]`);
  return undefined;
}

function footFrom(fields: JsonFields): FootOutlineFact {
  fields.need("foot", "outline");
  return present<FootOutlineFact>({
    foot: fields.oneOf("foot", ["lead", "trail"]) ?? "lead",
    frame: fields.oneOf("frame", ["lab", "plate"]) ?? "lab",
    outline: outlineFrom(fields),
    heel: point(fields, "heel"),
    toe: point(fields, "toe"),
  });
}

function outlineFrom(fields: JsonFields): readonly Vector[] {
  const points = fields.raw("outline");
  if (points === undefined) return [];
  if (!Array.isArray(points) || points.length < 3) {
    fields.fault("outline", `is ${jsonShown(points)}; it must be a list of at least 3 points, each as [x, y] in m`);
    return [];
  }
  return points.map((one: unknown, k) => {
    if (isNumbers(one, 2, 3)) return vectorOf(one);
    fields.fault(`outline[${k}]`, `is ${jsonShown(one)}; it must be a point of 2 or 3 numbers in m`);
    return { x: 0, y: 0, z: 0 };
  });
}

function massFrom(fields: JsonFields | undefined, unknown: UnknownFields): ShotFacts["mass"] {
  if (fields === undefined) return undefined;
  fields.need("kg");
  const mass = present<NonNullable<ShotFacts["mass"]>>({
    kg: fields.number("kg", { least: 20, most: 250 }) ?? 0,
    sdKg: fields.number("sd"),
    source: fields.oneOf("source", ["scale", "plates", "said"]),
    withClub: fields.flag("withClub"),
  });
  keepRest(fields, unknown, "mass");
  return mass;
}

function eventFrom(fields: JsonFields): Event {
  fields.need("event", "t", "source");
  return present<Event>({
    event: fields.oneOf("event", EVENT_NAMES) ?? "address",
    timeS: fields.number("t") ?? 0,
    fromS: fields.number("from"),
    source: fields.oneOf("source", ["marked", "signal", "estimated"]) ?? "estimated",
    sdMs: fields.number("sd", { above: 0 }),
  });
}

function resultFrom(fields: JsonFields | undefined, unknown: UnknownFields): ShotResult | undefined {
  if (fields === undefined) return undefined;
  const strike = fields.numbers("strike", 2, 2);
  const result = present<ShotResult>({
    strikeMm: strike && [strike[0] ?? 0, strike[1] ?? 0],
    contact: fields.oneOf("contact", ["clean", "fat", "thin", "shank", "top", "miss"]),
    startLineDeg: fields.number("startLine"),
    carryM: fields.number("carry"),
    launchDeg: fields.number("launch"),
    isGood: fields.raw("good") === null ? undefined : fields.flag("good"),
  });
  keepRest(fields, unknown, "result");
  return result;
}

/** The videos are not part of the facts; they are only checked, so that what is written back is sound. */
function checkVideos(fields: JsonFields): void {
  for (const video of fields.objects("video") ?? []) {
    video.need("file", "anchors");
    video.text("file");
    video.text("sha256");
    video.oneOf("view", ["face-on", "down-the-line", "other"]);
    video.number("timeScale", { above: 0 });
    for (const anchor of video.objects("anchors", 1) ?? []) {
      anchor.need("video", "plate", "by");
      for (const name of ["video", "plate", "sd"]) anchor.number(name);
      anchor.oneOf("by", ["sound", "light", "clap", "signal", "manual"]);
    }
  }
}
