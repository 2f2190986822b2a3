import { expect, test } from "vitest";
import { byteText, momentText } from "./keeping-text.ts";

test("sizes and moments as people read them", () => {
  expect([0, 999, 1000, 9_949, 81_400_000, 2_500_000_000].map(byteText)).toEqual([
    "0 bytes",
    "999 bytes",
    "1.0 kB",
    "9.9 kB",
    "81 MB",
    "2.5 GB",
  ]);
  expect(momentText(new Date(2026, 2, 9, 14, 5).getTime())).toBe("2026-03-09 14:05");
});
