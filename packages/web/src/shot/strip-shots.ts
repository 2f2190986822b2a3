import type { ShotLineShape } from "@underfoot/protocol";
import { dayText, lieNameText } from "@underfoot/report";
import type { Source } from "./source.ts";

/** One shot of the strip. */
export interface StripShot {
  readonly id: string;
  /** As it stands on the strip. */
  readonly number: string;
  readonly words: string;
  readonly mark: "kept" | "mishit" | "aside" | "file";
}

const MARKS = { kept: "kept", mishit: "mishit", "set-aside": "aside" } as const;

/** "Shot 3, low, upslope 4.9°, wedge 58", with player and day where the list has several. */
export function stripFromLines(lines: readonly ShotLineShape[]): readonly StripShot[] {
  const isOneSession = lines.every(({ sessionId }) => sessionId === lines[0]?.sessionId);
  return lines.map((line) => {
    const { ordinal, label, fileName } = line;
    const number = ordinal > 0 ? String(ordinal) : "–";
    const said = [line.intent, lieNameText(line), line.club].filter((part) => part !== undefined);
    const parts = [
      ...(isOneSession ? [] : [line.playerCode, dayText(line.day)]),
      ordinal > 0 ? `shot ${ordinal}` : undefined,
      ...(said.length === 0 ? [fileName] : said),
      label === "mishit" ? "mishit" : undefined,
      label === "set-aside" ? "set aside" : undefined,
    ].filter((part) => part !== undefined);
    const words = parts.join(", ").replace(/^shot/, "Shot");
    return { id: line.id, number, words, mark: MARKS[label] };
  });
}

/** Files that are only looked at stand behind the shots, each with a plus. */
export const stripFromFiles = (files: readonly Source[]): readonly StripShot[] =>
  files.map(({ id, file }, k) => ({ id, number: `+${k + 1}`, words: `+${k + 1} ${file}, not stored`, mark: "file" }));
