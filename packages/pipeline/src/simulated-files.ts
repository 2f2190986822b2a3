import { c3dBytes, sidecarText } from "@underfoot/formats";
import type { SimulatedShot } from "@underfoot/simulator";

/** A simulated shot as files hold it. */
export interface SimulatedFiles {
  readonly c3d: Uint8Array;
  readonly sidecar: string;
}

/**
 * A simulated shot, or a whole session in one recording, as a C3D file and its sidecar.
 *
 * @param name  file name of the recording, written into the sidecar
 */
export function simulatedFiles(
  { recording, raw, facts }: Pick<SimulatedShot, "recording" | "raw" | "facts">,
  name: string,
): SimulatedFiles {
  const onPlates = new Set(recording.plates.flatMap(({ channels }) => channels));
  const extras = recording.channels
    .filter((_, k) => !onPlates.has(k))
    .map(({ label, unit, values }) => ({ label, unit, values }));
  const { lie, handed, target, player } = facts;
  const c3d = c3dBytes({
    rateHz: recording.rateHz,
    plates: raw.map(({ type, cornersM, columns, originM, matrix, unit, fullScale }) => ({
      type,
      cornersM,
      columns,
      originM,
      fullScale,
      ...(matrix ? { matrix } : {}),
      ...(unit === undefined ? {} : { unit }),
    })),
    extras,
    events: recording.events.map(({ label, timeS }) => ({ label, timeS })),
    facts: {
      handed,
      target,
      ...(player === undefined ? {} : { pseudonym: player }),
      ...(lie ? { pitchDeg: lie.pitchDeg, rollDeg: lie.rollDeg } : {}),
    },
  });
  return { c3d, sidecar: sidecarText({ ...facts, recordingFile: name }) };
}
