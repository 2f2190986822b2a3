/** A size as people read it: "81 MB" (powers of ten, SI). */
export function byteText(byteCount: number): string {
  const units = ["bytes", "kB", "MB", "GB", "TB"] as const;
  const power = byteCount < 1000 ? 0 : Math.min(units.length - 1, Math.floor(Math.log10(byteCount) / 3));
  const value = byteCount / 1000 ** power;
  return `${power === 0 || value >= 10 ? Math.round(value) : value.toFixed(1)} ${units[power]}`;
}

/** Day and minute of this machine: "2026-03-09 14:05". */
export function momentText(ms: number): string {
  const at = new Date(ms);
  const two = (value: number): string => String(value).padStart(2, "0");
  return `${at.getFullYear()}-${two(at.getMonth() + 1)}-${two(at.getDate())} ${two(at.getHours())}:${two(at.getMinutes())}`;
}
