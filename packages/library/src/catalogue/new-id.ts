import type { Random } from "@underfoot/domain";

/** The digits of Crockford's base 32 in lower case: no i, l, o, u. */
const DIGITS = "0123456789abcdefghjkmnpqrstvwxyz";

function base32(value: number, length: number): string {
  let text = "";
  for (let rest = value, k = 0; k < length; k++, rest = Math.floor(rest / 32)) text = DIGITS[rest % 32] + text;
  return text;
}

/** Makes ids. */
export type NewId = () => string;

/**
 * Text ids that sort by the time they were made: nine digits of milliseconds (until the year 3084), two that count
 * within the millisecond, eight at random, all base 32. Never goes back, even where the clock does.
 */
export function idMaker(clock: () => number, random: Random): NewId {
  let lastMs = 0;
  let count = 0;
  return () => {
    const nowMs = Math.floor(clock());
    count = nowMs > lastMs ? 0 : count + 1;
    lastMs = Math.max(lastMs, nowMs);
    if (count === 32 * 32) {
      count = 0;
      lastMs++;
    }
    return base32(lastMs, 9) + base32(count, 2) + base32(random.below(32 ** 4), 4) + base32(random.below(32 ** 4), 4);
  };
}
