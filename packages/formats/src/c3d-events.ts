import type { RecordingEvent, Where } from "@underfoot/domain";
import { c3dFindings, type Said } from "./c3d-findings.ts";
import type { C3dLayout } from "./c3d-layout.ts";
import type { NumberReader } from "./c3d-numbers.ts";
import { type C3dParameters, countOf, numbersOf, textsOf } from "./c3d-parameters.ts";
import { fixedText } from "./c3d-text.ts";

const HEADER_KEY = 12_345;
const HEADER_EVENTS = 18;

/** Events of the header, counted from the first stored frame. */
function headerEvents(numbers: NumberReader, bytes: Uint8Array): RecordingEvent[] {
  if (numbers.uint16(298) !== HEADER_KEY) return [];
  const count = Math.min(HEADER_EVENTS, numbers.uint16(300));
  return Array.from({ length: count }, (_, k) => ({
    label: fixedText(bytes.subarray(396 + 4 * k, 400 + 4 * k)),
    context: "",
    timeS: numbers.real(304 + 4 * k),
    source: "header" as const,
  })).filter(({ timeS }) => Number.isFinite(timeS));
}

/** EVENT:TIMES in seconds: two rows are minutes and seconds, one row is seconds. */
function writtenTimesS(parameters: C3dParameters): number[] {
  const values = numbersOf(parameters, "EVENT:TIMES") ?? [];
  const dimensions = parameters.byName.get("EVENT:TIMES")?.dimensions ?? [];
  const used = countOf(parameters, "EVENT:USED");
  const hasMinutes = dimensions.length > 1 ? dimensions[0] === 2 : values.length === 2 && used === 1;
  if (!hasMinutes) return values.slice(0, used);
  const pairs = Array.from(
    { length: Math.floor(values.length / 2) },
    (_, k) => 60 * values[2 * k]! + values[2 * k + 1]!,
  );
  return pairs.slice(0, used);
}

/**
 * The events of a file, times in s from the first stored sample: those of the group EVENT first, then the header's.
 *
 * EVENT counts from frame 1, so (first frame - 1) / rate is taken off, unless that puts events outside the recording and
 * leaving it puts all inside (`event-origin`). SUBJECTS and DESCRIPTIONS may name a person and are not read.
 */
export function eventsFrom(
  numbers: NumberReader,
  bytes: Uint8Array,
  parameters: C3dParameters,
  layout: C3dLayout,
  where: Where,
  out: Said,
): RecordingEvent[] {
  const { firstFrame, frameRateHz, frames } = layout;
  const lengthS = frames / frameRateHz;
  const frameS = 1 / frameRateHz;
  const isOutside = (timeS: number): boolean => timeS < -frameS || timeS > lengthS + frameS;
  const written = writtenTimesS(parameters);
  const startS = firstFrame > 1 && Number.isFinite(frameS) ? (firstFrame - 1) * frameS : 0;
  const isFromFirst =
    startS > 0 && written.some((timeS) => isOutside(timeS - startS)) && !written.some((timeS) => isOutside(timeS));
  if (isFromFirst) out.guess(c3dFindings.eventOrigin(where, firstFrame));
  const labels = textsOf(parameters, "EVENT:LABELS");
  const contexts = textsOf(parameters, "EVENT:CONTEXTS");
  const ofGroup = written
    .map((timeS, k) => ({
      label: labels[k] ?? "",
      context: contexts[k] ?? "",
      timeS: isFromFirst ? timeS : timeS - startS,
      source: "group" as const,
    }))
    .filter(({ timeS }) => Number.isFinite(timeS));
  const events = [...ofGroup, ...headerEvents(numbers, bytes)];
  const outside = events.filter(({ timeS }) => isOutside(timeS)).length;
  if (outside > 0) out.say(c3dFindings.eventOutside(where, outside, lengthS));
  return events;
}
