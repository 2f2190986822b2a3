import { DEFAULT_SETTINGS, type Settings } from "@underfoot/mechanics";
import { serverFaults } from "../refusals/faults.ts";

type Fields = Readonly<Record<string, unknown>>;

const isObject = (value: unknown): value is Fields =>
  typeof value === "object" && value !== null && !Array.isArray(value);

/** A number more than 0; the largest is a slip of many zeros, not a setting. */
function checkNumber(name: string, value: unknown): void {
  if (typeof value !== "number" || !(value > 0 && value <= 10_000))
    throw serverFaults.wrongSetting(name, "a number of more than 0 and at most 10,000");
}

function checkFilter(value: unknown): void {
  const { kind, cutoffHz, ...others } = isObject(value) ? value : {};
  const isKnown =
    kind === "butterworth" ? typeof cutoffHz === "number" && cutoffHz >= 1 && cutoffHz <= 1000 : cutoffHz === undefined;
  if (!isKnown || !["butterworth", "residual", "none"].includes(String(kind)) || Object.keys(others).length > 0)
    throw serverFaults.wrongSetting(
      "filter",
      '{"kind": "butterworth", "cutoffHz": 1 to 1000}, {"kind": "residual"} or {"kind": "none"}',
    );
}

/** Numbers under names: exactly those of the default. */
function checkNumbers(name: string, value: unknown, like: Fields): void {
  const names = Object.keys(like);
  if (!isObject(value) || Object.keys(value).sort().join() !== [...names].sort().join())
    throw serverFaults.wrongSetting(name, `numbers under the names ${names.join(", ")}`);
  for (const inner of names) checkNumber(`${name}.${inner}`, value[inner]);
}

/**
 * Settings as they come in; null sets one back to its default.
 *
 * @throws UnderfootError no-setting, wrong-setting
 */
export function settingsPart(fields: Fields): Partial<Settings> {
  const defaults: Fields = { ...DEFAULT_SETTINGS };
  const part: Record<string, unknown> = {};
  for (const [name, value] of Object.entries(fields)) {
    if (!Object.hasOwn(defaults, name)) throw serverFaults.noSetting(name);
    const like = defaults[name];
    if (value === null) part[name] = like;
    else {
      if (name === "filter") checkFilter(value);
      else if (isObject(like)) checkNumbers(name, value, like);
      else checkNumber(name, value);
      part[name] = value;
    }
  }
  return part;
}
