import { expect, test } from "vitest";
import { csvText } from "./csv-text.ts";

test("quotes where RFC 4180, section 2, asks for them; nothing for what is not known", () => {
  expect(
    csvText([
      ["player", 'lie "up", steep', "two\nlines"],
      ["P1", -0.5, Number.NaN],
      ["P2", undefined, 1e-7],
    ]),
  ).toBe('player,"lie ""up"", steep","two\nlines"\r\nP1,-0.5,\r\nP2,,1e-7\r\n');
});
