import { type Finding, type Recording, UnderfootError } from "@underfoot/domain";

const fault = (code: string, file: string, sentence: string, remedy: string): UnderfootError =>
  new UnderfootError({ code: `bring-in-${code}`, sentence, remedy, where: { file } });

const shown = (names: readonly string[]): string =>
  names.length === 0
    ? "none"
    : `${names.slice(0, 6).join(", ")}${names.length > 6 ? ` and ${names.length - 6} more` : ""}`;

/** Every reason for which a file that can be read is still no shot. */
export const bringInFaults = {
  noMapping: (file: string, columns: readonly string[]): UnderfootError =>
    fault(
      "no-mapping",
      file,
      `${file} is a table of numbers (columns ${shown(columns)}), and no mapping kept here says which column is which force of which plate.`,
      "Map its columns once, keep the mapping by a name, and bring the file in again; the next file like it is then known.",
    ),
  noPlates: (file: string, channels: number): UnderfootError =>
    fault(
      "no-plates",
      file,
      `${file} has no force plate, only ${channels} ${channels === 1 ? "channel" : "channels"} that belong to none, so it holds no shot.`,
      "Export it again with its force plates; a recording of markers or of other sensors alone stays where it is.",
    ),
  noSoundPlate: (file: string, why: string): UnderfootError =>
    fault(
      "no-sound-plate",
      file,
      `No force plate of ${file} can be computed: ${why}`,
      "Export it again with the plates' types, channels and calibration.",
    ),
  noNumbers: (file: string, samples: number): UnderfootError =>
    fault(
      "no-numbers",
      file,
      `The force plates of ${file} have no number in any of their ${samples} samples.`,
      "Export the recording again, with the plates switched on and their channels chosen.",
    ),
  cutOff: (file: string, { sentence }: Finding): UnderfootError =>
    fault(
      "cut-off",
      file,
      `${file} is cut off: ${sentence}`,
      "Copy or export it again; where this is all there is, bring it in with leave to take what is cut off.",
    ),
} as const;

/** Findings of the reader after which a part of the recording is missing. */
const CUT_OFF = "truncated";

/** Why a recording cannot hold a whole shot; undefined where it can. */
export function noShotFault(
  recording: Recording,
  file: string,
  { isCutOffTaken }: { readonly isCutOffTaken: boolean },
): UnderfootError | undefined {
  const { plates, channels, sampleCount, findings } = recording;
  if (plates.length === 0) return bringInFaults.noPlates(file, channels.length);
  const sound = plates.filter((plate) => plate.fault?.severity !== "stop");
  if (sound.length === 0) return bringInFaults.noSoundPlate(file, plates[0]?.fault?.sentence ?? "");
  const hasNumber = (at: number): boolean => channels[at]?.values.some((value) => Number.isFinite(value)) === true;
  if (!sound.some((plate) => plate.channels.some(hasNumber))) return bringInFaults.noNumbers(file, sampleCount);
  const cut = findings.find(({ code }) => code === CUT_OFF);
  return cut && !isCutOffTaken ? bringInFaults.cutOff(file, cut) : undefined;
}
