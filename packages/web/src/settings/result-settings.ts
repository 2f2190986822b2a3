import type { Settings } from "@underfoot/mechanics";

/** A setting that is one number, as a person enters it. */
export interface NumberSetting {
  readonly name: NumberName;
  readonly word: string;
  readonly unit: string;
  /** Shown value = stored value x this. */
  readonly factor: number;
  readonly least: number;
  readonly most: number;
  readonly group: SettingGroup;
}

export const SETTING_GROUPS = ["Load", "Plates", "Events without a mark", "Motion", "Cautions"] as const;
type SettingGroup = (typeof SETTING_GROUPS)[number];

type NumberName = { [N in keyof Settings]: Settings[N] extends number ? N : never }[keyof Settings];

const setting = (
  group: SettingGroup,
  name: NumberName,
  word: string,
  unit: string,
  [least, most]: readonly [number, number],
  factor = 1,
): NumberSetting => ({ group, name, word, unit, least, most, factor });

/** Every number that results hang on, but the filter. Limits are those of entry, in the shown unit. */
export const NUMBER_SETTINGS: readonly NumberSetting[] = [
  setting("Load", "loadOnN", "A foot is loaded from", "N", [1, 500]),
  setting("Load", "loadOnShare", "and from this share of the weight", "%", [0, 50], 100),
  setting("Load", "loadOffN", "until it falls below", "N", [1, 500]),
  setting("Load", "loadOffShare", "and below this share of the weight", "%", [0, 50], 100),
  setting("Load", "trustedCopSigmaM", "Pressure is drawn while its uncertainty is at most", "mm", [1, 100], 1000),
  setting("Plates", "zeroSigmaN", "Zero of a force channel, one sigma", "N", [0, 100]),
  setting("Plates", "zeroSigmaNm", "Zero of a moment channel, one sigma", "N m", [0, 50]),
  setting("Plates", "gainSigma", "Gain of a plate, one sigma", "%", [0, 20], 100),
  setting("Plates", "crosstalkSigma", "Crosstalk of load into horizontal force, one sigma", "%", [0, 20], 100),
  setting("Plates", "placeSigmaM", "Where a plate lies, one sigma", "mm", [0, 100], 1000),
  setting("Plates", "inclinometerSigmaDeg", "Inclinometer, one sigma", "°", [0, 10]),
  setting("Plates", "clockLimitMs", "Clocks of two plates may differ by", "ms", [0.1, 100]),
  setting("Events without a mark", "deliveryBeforeImpactMs", "Delivery before impact", "ms", [10, 400]),
  setting("Events without a mark", "impactAfterUpPeakMs", "Impact after the largest up force", "ms", [0, 400]),
  setting("Events without a mark", "markSigmaMs", "A mark without its own uncertainty, one sigma", "ms", [0.1, 100]),
  setting("Motion", "swaySpeedMPerS", "Sway of a quiet stance, horizontal, one sigma", "mm/s", [0, 50], 1000),
  setting("Motion", "swaySpeedUpMPerS", "Sway of a quiet stance, up, one sigma", "mm/s", [0, 50], 1000),
  setting("Motion", "driftMPerS2", "Drift as acceleration, horizontal, one sigma", "mm/s²", [0, 100], 1000),
  setting("Motion", "driftUpMPerS2", "Drift as acceleration, up, one sigma", "mm/s²", [0, 100], 1000),
  setting("Motion", "closingSpeedMPerS", "Speed left at the quiet finish, one sigma", "mm/s", [0, 100], 1000),
  setting("Cautions", "frictionCaution", "Required friction, caution from", "", [0.1, 2]),
  setting("Cautions", "frictionStrongCaution", "Required friction, strong caution from", "", [0.1, 2]),
];

/** A number as it stands in a field: no rounding noise of the factor. */
export function shownNumber(value: number, factor: number): string {
  return String(Number((value * factor).toPrecision(9)));
}

export type EnteredNumber = { readonly value: number } | { readonly why: string };

/** What a person wrote, in the stored unit; a comma is a decimal point. */
export function enteredNumber(text: string, { factor, least, most, unit, word }: NumberSetting): EnteredNumber {
  const shown = Number(text.trim().replace(",", "."));
  const inUnit = unit === "" ? "" : ` ${unit}`;
  if (text.trim() === "" || !Number.isFinite(shown) || shown < least || shown > most)
    return { why: `${word}: a number from ${least} to ${most}${inUnit} is needed, not "${text}".` };
  return { value: Number((shown / factor).toPrecision(12)) };
}

/** Only what differs from the settings in force; what is back at its default is null. */
export function changedPart(
  entered: Readonly<Record<string, unknown>>,
  inForce: Readonly<Record<string, unknown>>,
  defaults: Readonly<Record<string, unknown>>,
): Record<string, unknown> {
  const same = (a: unknown, b: unknown): boolean => JSON.stringify(a) === JSON.stringify(b);
  return Object.fromEntries(
    Object.entries(entered)
      .filter(([name, value]) => !same(value, inForce[name]))
      .map(([name, value]) => [name, same(value, defaults[name]) ? null : value]),
  );
}
