import type { EventName, Finding, Samples } from "@underfoot/domain";
import { shotFindings } from "./faults.ts";
import type { GivenEvent } from "./marks.ts";
import { type ForceColumns, type QuietWindow, quietWindow, type Window } from "./quiet-window.ts";
import { startSample } from "./start.ts";
import { validSd } from "./valid-mean.ts";

/** Where the quiet stance is looked for (mechanics, weight): before a known start, or before impact. */
const BEFORE_START_S: readonly [number, number] = [3, 0.05];
const BEFORE_IMPACT_S: readonly [number, number] = [4.5, 0.9];
const LENGTH_S = 0.5;
const BEFORE_ESTIMATED_START_S = 0.1;
/** Least change of total force (share of weight) and of turning torque, N m, that counts as motion (ours, by simulation). */
const START_FORCE_SHARE = 0.015;
const START_TURN_NM = 2.5;
/** Still enough: sd of each component under 1.5 % of weight (ours). */
const STILL_SHARE = 0.015;

/** The quiet stance and the first motion after it, in samples. */
export interface AddressStance extends Window {
  readonly core: Window;
  readonly isStill: boolean;
  /** Estimated from the forces; undefined where marked, or where nothing moves. */
  readonly startSample: number | undefined;
  readonly findings: readonly Finding[];
}

interface StanceOptions {
  readonly rateHz: number;
  /** About the player's weight, N. */
  readonly weightN: number;
  /** Seconds from the first sample; undefined where there is none. */
  readonly impactS: number | undefined;
  readonly given: ReadonlyMap<EventName, GivenEvent>;
  /** Turning torque about the combined CoP, 10 Hz low-pass, N m. */
  readonly slowTurnNm: Samples;
}

/**
 * The quiet stance before the shot, and start where no one marked it.
 *
 * A marked address is taken as it is. Else: the last of the stillest half seconds from 3 s to 50 ms before a marked
 * start, or 4.5 to 0.9 s before impact, extended backwards; with an estimated start it ends at least 0.1 s before it,
 * keeping half a second.
 *
 * @param force  total force, 10 Hz low-pass: target, ahead, up, N
 */
export function addressStance(force: ForceColumns, options: StanceOptions): AddressStance {
  const { rateHz, weightN, given, impactS } = options;
  const sampleCount = force[0].length;
  const findings: Finding[] = [];
  const marked = markedWindow(given.get("address"), rateHz, sampleCount);
  const window = marked ?? searchedWindow(force, options, findings);
  const markedStart = given.get("start");
  const until = impactS === undefined ? sampleCount : Math.ceil(impactS * rateHz);
  const signals = [
    ...force.map((values) => ({ values, leastLimit: START_FORCE_SHARE * weightN })),
    { values: options.slowTurnNm, leastLimit: START_TURN_NM },
  ];
  const start = markedStart === undefined ? startSample(signals, window.core, { rateHz, until }) : undefined;
  let end = window.end;
  if (start !== undefined && marked === undefined) {
    const length = Math.round(LENGTH_S * rateHz);
    const latest = start - Math.round(BEFORE_ESTIMATED_START_S * rateHz);
    end = Math.min(end, Math.max(latest, window.first + length));
  }
  const sds = force.map((column) => validSd(column, window.first, end) / weightN);
  const worst = sds.indexOf(Math.max(...sds));
  const isStill = sds.every((sd) => sd < STILL_SHARE);
  if (!isStill)
    findings.push(shotFindings.notStill(sds[worst] ?? Number.NaN, ["target", "ahead", "up"][worst] ?? "total"));
  const lengthS = (end - window.first) / rateHz;
  if (lengthS < LENGTH_S - 1e-9) findings.push(shotFindings.addressShort(lengthS));
  return { first: window.first, end, core: window.core, isStill, startSample: start, findings };
}

/** A marked address: from its beginning, or the half second before its end. */
function markedWindow(mark: GivenEvent | undefined, rateHz: number, sampleCount: number): QuietWindow | undefined {
  if (mark === undefined) return undefined;
  const end = Math.min(sampleCount, Math.round(mark.timeS * rateHz));
  const length = Math.round(LENGTH_S * rateHz);
  const first = Math.max(0, mark.fromS === undefined ? end - length : Math.round(mark.fromS * rateHz));
  if (end - first < 2) return undefined;
  return { first, end, core: { first: Math.max(first, end - length), end } };
}

function searchedWindow(force: ForceColumns, options: StanceOptions, findings: Finding[]): QuietWindow {
  const { rateHz, weightN, given, impactS } = options;
  const sampleCount = force[0].length;
  const at = (timeS: number): number => Math.min(sampleCount, Math.max(0, Math.round(timeS * rateHz)));
  const startS = given.get("start")?.timeS;
  const [beforeS, [farS, nearS]] = startS === undefined ? [impactS, BEFORE_IMPACT_S] : [startS, BEFORE_START_S];
  const limit = beforeS === undefined ? sampleCount : at(beforeS);
  const spans: Window[] = [];
  if (beforeS !== undefined) spans.push({ first: at(beforeS - farS), end: at(beforeS - nearS) });
  spans.push({ first: 0, end: limit }, { first: 0, end: sampleCount });
  for (const [k, span] of spans.entries()) {
    const found = quietWindow(force, span, { rateHz, weightN });
    if (found === undefined) continue;
    if (k > 0 && beforeS !== undefined) findings.push(shotFindings.addressElsewhere());
    return found;
  }
  const all = { first: 0, end: limit >= 2 ? limit : sampleCount };
  return { ...all, core: all };
}
