import type { Recording } from "@underfoot/domain";

/** A part of a recording: samples [first, end). */
export interface Stretch {
  readonly first: number;
  readonly end: number;
}

/**
 * One shot's part of a longer recording, as a recording of its own: times count from its first sample, columns are views.
 * Events outside are left out; a stretch that the file asks to be taken as zero stays only where it lies inside.
 *
 * @throws RangeError where the stretch does not lie in the recording
 */
export function recordingStretch(recording: Recording, { first, end }: Stretch): Recording {
  const { sampleCount, rateHz } = recording;
  if (!(Number.isInteger(first) && Number.isInteger(end) && first >= 0 && first < end && end <= sampleCount))
    throw new RangeError(`samples ${first} to ${end} of ${sampleCount}`);
  if (first === 0 && end === sampleCount) return recording;
  const startS = first / rateHz;
  const lengthS = (end - first) / rateHz;
  return {
    ...recording,
    sampleCount: end - first,
    channels: recording.channels.map((channel) => ({ ...channel, values: channel.values.subarray(first, end) })),
    plates: recording.plates.map((plate) => {
      const { zero, ...others } = plate;
      const isInside = zero !== undefined && zero.first >= first && zero.end <= end;
      return isInside ? { ...others, zero: { first: zero.first - first, end: zero.end - first } } : others;
    }),
    events: recording.events
      .map((event) => ({ ...event, timeS: event.timeS - startS }))
      .filter(({ timeS }) => timeS >= 0 && timeS < lengthS),
    markers: recording.markers.map((marker) => {
      // Markers are often slower than the plates.
      const share = marker.xM.length / sampleCount;
      const [from, to] = [Math.round(first * share), Math.round(end * share)];
      const { xM, yM, zM } = marker;
      return { ...marker, xM: xM.slice(from, to), yM: yM.slice(from, to), zM: zM.slice(from, to) };
    }),
  };
}
