import { EVENT_NAMES, type EventName, type EventSource, type Finding, type ShotFacts } from "@underfoot/domain";
import { shotFaults, shotFindings } from "./faults.ts";
import type { Settings } from "./settings.ts";

/** An event that a person marked or that a signal told. */
export interface GivenEvent {
  readonly event: EventName;
  readonly timeS: number;
  readonly fromS: number | undefined;
  readonly source: EventSource;
  readonly sigmaMs: number;
}

/** A mark by a person: seconds from the first sample. Of `address` the end of the quiet window, and its beginning in `fromS`. */
export interface Mark {
  readonly event: EventName;
  readonly timeS: number;
  readonly fromS?: number;
  readonly sdMs?: number;
}

/** In this order marks are believed: the ball tells impact best. */
const TRUST: readonly EventName[] = ["impact", "start", "top", "delivery", "finish", "address"];

/** A signal without its own sd, ms (mechanics, events: sound). */
const SIGNAL_SIGMA_MS = 1;

/**
 * The given events of a shot that can stand together, one of each name: marks beat signals. Estimates that were stored
 * are not taken: they are made anew. A mark outside the recording or out of order is left out, with the reason.
 */
export function givenEvents(
  facts: Pick<ShotFacts, "events">,
  { lengthS, settings }: { readonly lengthS: number; readonly settings: Settings },
): { readonly given: ReadonlyMap<EventName, GivenEvent>; readonly findings: readonly Finding[] } {
  const given = new Map<EventName, GivenEvent>();
  const findings: Finding[] = [];
  for (const name of TRUST) {
    const ofName = facts.events.filter((e) => e.event === name);
    const best = ofName.findLast((e) => e.source === "marked") ?? ofName.findLast((e) => e.source === "signal");
    if (best === undefined) continue;
    const why =
      best.timeS >= 0 && best.timeS <= lengthS
        ? outOfOrder(name, best.timeS, given)
        : `${best.timeS.toFixed(3)} s lies outside the recording of ${lengthS.toFixed(3)} s`;
    if (why !== undefined) {
      findings.push(shotFindings.markRefused(name, why));
      continue;
    }
    const usualMs = best.source === "signal" ? SIGNAL_SIGMA_MS : settings.markSigmaMs;
    given.set(name, {
      event: name,
      timeS: best.timeS,
      fromS: best.fromS,
      source: best.source,
      sigmaMs: best.sdMs ?? usualMs,
    });
  }
  return { given, findings };
}

/** Why a time does not fit between the others, as a clause; undefined: it fits. */
export function outOfOrder(
  event: EventName,
  timeS: number,
  others: ReadonlyMap<EventName, { readonly timeS: number }>,
): string | undefined {
  const place = EVENT_NAMES.indexOf(event);
  for (const [name, other] of others) {
    const otherPlace = EVENT_NAMES.indexOf(name);
    const isBefore = otherPlace < place && other.timeS >= timeS;
    const isAfter = otherPlace > place && other.timeS <= timeS;
    if (isBefore || isAfter) {
      const wanted = isBefore ? "after" : "before";
      return `${event} at ${timeS.toFixed(3)} s must come ${wanted} ${name} at ${other.timeS.toFixed(3)} s`;
    }
  }
  return undefined;
}

/**
 * The facts of a shot with a person's marks put in place of earlier marks of the same events; everything computed from
 * them is then computed anew with `shotFromRecording`. Signals and other events are kept.
 *
 * @throws UnderfootError `mark-out-of-order`, with the reason, against the other marks and signals
 */
export function withMarks(facts: ShotFacts, marks: readonly Mark[]): ShotFacts {
  const marked = new Set(marks.map((mark) => mark.event));
  const kept = facts.events.filter((e) => !(e.source === "marked" && marked.has(e.event)));
  const firm = new Map<EventName, { readonly timeS: number }>();
  for (const source of ["signal", "marked"] as const) {
    for (const e of kept) if (e.source === source && !marked.has(e.event)) firm.set(e.event, e);
  }
  for (const mark of marks) {
    if (!Number.isFinite(mark.timeS)) throw shotFaults.markOutOfOrder(mark.event, "its time is not a number");
    const why = outOfOrder(mark.event, mark.timeS, firm);
    if (why !== undefined) throw shotFaults.markOutOfOrder(mark.event, why);
    firm.set(mark.event, mark);
  }
  return { ...facts, events: [...kept, ...marks.map((mark) => ({ ...mark, source: "marked" as const }))] };
}

/** The facts without a person's marks of these events: signals and estimates stand again. */
export function withoutMarks(facts: ShotFacts, events: readonly EventName[]): ShotFacts {
  return { ...facts, events: facts.events.filter((e) => !(e.source === "marked" && events.includes(e.event))) };
}
