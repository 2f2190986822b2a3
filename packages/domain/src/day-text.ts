const MONTHS = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"] as const;

/** A day, YYYY-MM-DD, in words: "9 Mar 2026", or "9 Mar" without the year. */
export function dayText(day: string, style: "with year" | "without year" = "with year"): string {
  const [y, m, d] = day.split("-");
  const text = `${Number(d)} ${MONTHS[Number(m) - 1]}`;
  return style === "with year" ? `${text} ${y}` : text;
}
