import { expect, test } from "vitest";
import { fromTo } from "./row-words.ts";

test("two values share their unit; what has none stands in full", () => {
  expect(fromTo("84 %", "76 %", "%")).toBe("84 to 76 %");
  expect(fromTo("−398 ms", "−356 ms", "ms")).toBe("−398 to −356 ms");
  expect(fromTo("not known", "76 %", "%")).toBe("not known to 76 %");
});
