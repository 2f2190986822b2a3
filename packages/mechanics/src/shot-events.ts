import {
  type Column,
  EVENT_NAMES,
  type EventName,
  type Finding,
  type Recording,
  type Samples,
} from "@underfoot/domain";
import type { AddressStance } from "./address-stance.ts";
import type { LevelFromTurf } from "./axes.ts";
import { shotFindings } from "./faults.ts";
import { finishSample } from "./finish.ts";
import { largestSample, soundImpact, triggerImpact } from "./impact.ts";
import { type GivenEvent, outOfOrder } from "./marks.ts";
import type { ForceColumns } from "./quiet-window.ts";
import type { Settings } from "./settings.ts";
import type { FootSeries, MotionSeries, ShotEvent } from "./shot.ts";
import { lastTurn, spinReversal, spinTorque } from "./spin.ts";

/** Impact of a shot and what had to be said to find it. */
export interface FoundImpact {
  readonly event: ShotEvent | undefined;
  readonly findings: readonly Finding[];
}

/**
 * Impact: a mark, a given signal, the recording's own trigger, its sound, else 60 ms after the largest up force
 * (10 Hz low-pass; common practice, no source).
 */
export function foundImpact(
  recording: Pick<Recording, "channels" | "rateHz" | "sampleCount">,
  { given, slowUpN, settings }: { given: ReadonlyMap<EventName, GivenEvent>; slowUpN: Samples; settings: Settings },
): FoundImpact {
  const known = given.get("impact");
  if (known !== undefined) return { event: eventOf(known), findings: [] };
  const { rateHz, channels } = recording;
  const findings: Finding[] = [];
  for (const role of ["trigger", "sound"] as const) {
    for (const channel of channels) {
      if (channel.role !== role) continue;
      const told = role === "trigger" ? triggerImpact(channel, rateHz) : soundImpact(channel, rateHz);
      if (told !== undefined) return { event: { event: "impact", source: "signal", signal: role, ...told }, findings };
      findings.push(shotFindings.noImpactSignal(role));
    }
  }
  const peak = largestSample(slowUpN);
  if (peak < 0) return { event: undefined, findings };
  const lastS = (recording.sampleCount - 1) / rateHz;
  const timeS = Math.min(lastS, peak / rateHz + settings.impactAfterUpPeakMs / 1000);
  return {
    event: { event: "impact", timeS, source: "estimated", sigmaMs: settings.estimatedSigmaMs.impact },
    findings,
  };
}

function eventOf({ event, timeS, source, sigmaMs }: GivenEvent): ShotEvent {
  return { event, timeS, source, sigmaMs };
}

export interface ShotEventsOptions {
  readonly rateHz: number;
  readonly given: ReadonlyMap<EventName, GivenEvent>;
  readonly impact: ShotEvent | undefined;
  readonly stance: AddressStance;
  readonly both: FootSeries;
  readonly levelMotion: MotionSeries;
  readonly level: LevelFromTurf;
  readonly slow: ForceColumns;
  readonly quietN: readonly [number, number, number];
  readonly weightN: number;
  readonly settings: Settings;
}

/**
 * All events of a shot in order of time. Given ones stand; the others are estimated from the forces within them.
 * An estimate that does not fit between the others is left out, and said.
 */
export function shotEvents(options: ShotEventsOptions): { readonly events: ShotEvent[]; readonly findings: Finding[] } {
  const { rateHz, given, stance, settings } = options;
  const sigmas = settings.estimatedSigmaMs;
  const found = new Map<EventName, ShotEvent>();
  const findings: Finding[] = [];
  for (const [name, event] of given) if (name !== "address") found.set(name, eventOf(event));
  const address = addressEvent(options);
  const isEstimated = options.impact?.source === "estimated";
  const before = isEstimated ? new Map([...found, ["address", address] as const]) : found;
  const impact = found.get("impact") ?? fittingImpact(options, before, findings);
  if (impact !== undefined) found.set("impact", impact);
  // A stance that lies after a given event (its finding is said already) is no address.
  if (outOfOrder("address", address.timeS, found) === undefined) found.set("address", address);

  const estimate = (event: EventName, timeS: number | undefined, sigmaMs: number, why: string): void => {
    if (found.has(event)) return;
    if (timeS === undefined) {
      findings.push(shotFindings.eventMissing(event, why));
      return;
    }
    const misfit = outOfOrder(event, timeS, found);
    if (misfit === undefined) found.set(event, { event, timeS, source: "estimated", sigmaMs });
    else findings.push(shotFindings.eventMissing(event, `its estimate does not fit: ${misfit}`));
  };
  const startS = stance.startSample === undefined ? undefined : stance.startSample / rateHz;
  estimate("start", startS, sigmas.start, "the forces stay as in the quiet stance");
  const topS = estimatedTopS(options, found);
  estimate("top", topS, sigmas.top, "the body's spin does not reverse between start and impact");
  const deliveryS = impact === undefined ? undefined : impact.timeS - settings.deliveryBeforeImpactMs / 1000;
  // It is counted from impact, so what impact is wrong by it is wrong by too.
  estimate("delivery", deliveryS, Math.hypot(sigmas.delivery, impact?.sigmaMs ?? 0), "there is no impact");
  estimate(
    "finish",
    finishS(options, impact, found.has("finish") ? undefined : findings),
    sigmas.finish,
    "there is no impact",
  );
  const events = EVENT_NAMES.flatMap((name) => found.get(name) ?? []);
  return { events, findings };
}

function addressEvent({ stance, given, rateHz }: ShotEventsOptions): ShotEvent {
  const timeS = (stance.first + stance.end - 1) / 2 / rateHz;
  return { event: "address", timeS, source: given.get("address")?.source ?? "estimated", sigmaMs: 0 };
}

/** Impact where it fits: an estimate from before the quiet stance is no shot's, and marks beat a channel's signal. */
function fittingImpact(
  { impact }: ShotEventsOptions,
  others: ReadonlyMap<EventName, ShotEvent>,
  findings: Finding[],
): ShotEvent | undefined {
  if (impact === undefined) return undefined;
  const misfit = outOfOrder("impact", impact.timeS, others);
  if (misfit === undefined) return impact;
  findings.push(shotFindings.eventMissing("impact", misfit));
  return undefined;
}

function estimatedTopS(options: ShotEventsOptions, found: ReadonlyMap<EventName, ShotEvent>): number | undefined {
  const start = found.get("start");
  const until = found.get("delivery")?.source === "estimated" ? undefined : found.get("delivery");
  const end = until ?? found.get("impact");
  if (start === undefined || end === undefined || found.has("top")) return undefined;
  const { rateHz, both, levelMotion, level, stance } = options;
  const span = { rateHz, start: start.timeS * rateHz, impact: end.timeS * rateHz };
  const torque: Column = spinTorque(both, levelMotion, level, stance);
  const reversal = spinReversal(torque, span) ?? lastTurn(levelMotion.speedTargetMPerS, span.start, span.impact);
  return reversal === undefined ? undefined : reversal / rateHz;
}

function finishS(
  { rateHz, slow, quietN, weightN }: ShotEventsOptions,
  impact: ShotEvent | undefined,
  findings: Finding[] | undefined,
): number | undefined {
  if (impact === undefined) return undefined;
  const sample = finishSample(slow, quietN, { rateHz, weightN, impact: impact.timeS * rateHz });
  if (sample !== undefined) return sample / rateHz;
  findings?.push(shotFindings.finishAtEnd());
  return (slow[0].length - 1) / rateHz;
}
