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
