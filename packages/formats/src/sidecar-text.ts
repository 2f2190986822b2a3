import type { FootOutlineFact, PlateFact, ShotFacts, Vector } from "@underfoot/domain";
import { isJsonObject } from "./json-fields.ts";
import { jsonText } from "./json-text.ts";
import { distinctKeys, eventKey, footKey, plateKey, shotFactsFromSidecar } from "./sidecar.ts";

type Fields = Readonly<Record<string, unknown>>;

/**
 * A shot's facts as the text of its sidecar, version 1, with the unknown fields where they stood; ends with a line end.
 *
 * @throws UnderfootError sidecar-field where a fact is one that the reader would refuse: nothing is written that cannot be read
 */
export function sidecarText(facts: ShotFacts): string {
  const text = `${jsonText(JSON.parse(JSON.stringify(sidecarFields(facts))))}\n`;
  shotFactsFromSidecar(text);
  return text;
}

function sidecarFields(facts: ShotFacts): Fields {
  const unknown = facts.unknown ?? {};
  const spare = (name: string): Fields => innerFields(unknown, name);
  const { lie, mass, result } = facts;
  const known = {
    recording: withSpare({ file: facts.recordingFile, sha256: facts.recordingSha256 }, spare("recording")),
    player: facts.player,
    handed: facts.handed,
    target: numbersOf(facts.target),
    up: facts.up && numbersOf(facts.up),
    slope: lie && { pitch: lie.pitchDeg, roll: lie.rollDeg, source: lie.source, sd: lie.sdDeg, ...spare("slope") },
    plates: listFields(facts.plates, plateKey, plateFields, spare("plates")),
    feet: facts.feet.length > 0 ? listFields(facts.feet, footKey, footFields, spare("feet")) : undefined,
    ball: facts.ballM && numbersOf(facts.ballM),
    mass: mass && { kg: mass.kg, source: mass.source, withClub: mass.withClub, sd: mass.sdKg, ...spare("mass") },
    pad: facts.padM,
    latitude: facts.latitudeDeg,
    height: facts.heightM,
    events: facts.events.length > 0 ? listFields(facts.events, eventKey, eventFields, spare("events")) : undefined,
    intent: facts.intent,
    lie: facts.lieName,
    club: facts.club,
    result: result && {
      ...{ strike: result.strikeMm, contact: result.contact, startLine: result.startLineDeg },
      ...{ carry: result.carryM, launch: result.launchDeg, good: result.isGood, ...spare("result") },
    },
    keep: facts.keep,
    note: facts.note,
  };
  const others = Object.entries(unknown).filter(([name]) => !Object.hasOwn(known, name));
  return { underfoot: "shot", version: 1, ...known, ...Object.fromEntries(others) };
}

function numbersOf({ x, y, z }: Vector): readonly number[] {
  return [x, y, z];
}

function innerFields(fields: Fields, name: string): Fields {
  const inner = Object.hasOwn(fields, name) ? fields[name] : undefined;
  return isJsonObject(inner) ? inner : {};
}

/** Undefined where there is nothing at all to write. */
function withSpare(fields: Fields, spare: Fields): Fields | undefined {
  const all = { ...fields, ...spare };
  return Object.values(all).some((value) => value !== undefined) ? all : undefined;
}

/** Each fact with its own unknown fields, found by the key under which the reader kept them. */
function listFields<T>(
  facts: readonly T[],
  keyOf: (fact: T) => string,
  fieldsOf: (fact: T, spare: Fields) => Fields,
  spare: Fields,
): readonly Fields[] {
  const keys = distinctKeys(facts.map(keyOf));
  return facts.map((fact, k) => fieldsOf(fact, innerFields(spare, keys[k] ?? "")));
}

function plateFields(fact: PlateFact, spare: Fields): Fields {
  const { plate, foot, sense, originSign, type, zero, clock } = fact;
  const { clock: _, ...others } = spare;
  const clockFields = clock && {
    ...{ offset: clock.offsetS, drift: clock.drift, sd: clock.sdS },
    ...innerFields(spare, "clock"),
  };
  return { plate, foot, sense, originSign, type, zero, clock: clockFields, ...others };
}

function footFields(foot: FootOutlineFact, spare: Fields): Fields {
  return {
    foot: foot.foot,
    frame: foot.frame,
    outline: foot.outline.map(numbersOf),
    heel: foot.heel && numbersOf(foot.heel),
    toe: foot.toe && numbersOf(foot.toe),
    ...spare,
  };
}

function eventFields({ event, timeS, fromS, source, sdMs }: ShotFacts["events"][number], spare: Fields): Fields {
  return { event, t: timeS, from: fromS, source, sd: sdMs, ...spare };
}
