/**
 * Days since 1970-01-01 of a day of the Gregorian calendar, YYYY-MM-DD (Howard Hinnant, "chrono-compatible low-level date
 * algorithms", days_from_civil; from memory).
 *
 * @throws RangeError where the text is no day
 */
export function dayNumber(day: string): number {
  const [, y, m, d] = /^(\d{4})-(\d{2})-(\d{2})$/.exec(day) ?? [];
  if (y === undefined) throw new RangeError(`no day: ${day}`);
  const month = Number(m);
  const year = Number(y) - (month <= 2 ? 1 : 0);
  const era = Math.floor(year / 400);
  const yearOfEra = year - era * 400;
  const dayOfYear = Math.floor((153 * (month + (month > 2 ? -3 : 9)) + 2) / 5) + Number(d) - 1;
  const dayOfEra = yearOfEra * 365 + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100) + dayOfYear;
  return era * 146097 + dayOfEra - 719468;
}

const MONTHS = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"] as const;

/** "9 Mar 2026", or "9 Mar" without the year. */
export function dayText(day: string, style: "with year" | "without year" = "with year"): string {
  const [y, m, d] = day.split("-");
  const text = `${Number(d)} ${MONTHS[Number(m) - 1]}`;
  return style === "with year" ? `${text} ${y}` : text;
}
