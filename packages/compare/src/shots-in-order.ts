import type { ComparedLabel, ComparedShot } from "./compared-shot.ts";
import { compareFaults } from "./faults.ts";
import type { Notice } from "./notices.ts";

/** Shots as they were hit: by day, session and number. */
export function inOrderHit(shots: readonly ComparedShot[]): readonly ComparedShot[] {
  return shots.toSorted((one, other) => {
    if (one.day !== other.day) return one.day < other.day ? -1 : 1;
    const [session, otherSession] = [one.sessionId ?? "", other.sessionId ?? ""];
    if (session !== otherSession) return session < otherSession ? -1 : 1;
    return one.ordinal - other.ordinal || (one.shotId < other.shotId ? -1 : one.shotId > other.shotId ? 1 : 0);
  });
}

/** Two lies are one where their angles agree to 0.01 degrees, or, where nobody measured them, by name. */
export function lieOf({ pitchDeg, rollDeg, lieName }: ComparedShot): string {
  if (pitchDeg === undefined && rollDeg === undefined) return lieName ?? "";
  // + 0 makes one zero of the two.
  const rounded = (deg = 0): number => Math.round(deg * 100) / 100 + 0;
  return `${rounded(pitchDeg)} ${rounded(rollDeg)}`;
}

/** All shots of one player, or a fault that names them. */
export function checkedPlayer(shots: readonly ComparedShot[]): void {
  const players = [...new Set(shots.flatMap(({ player }) => (player === undefined ? [] : [player])))];
  if (players.length > 1) throw compareFaults.severalPlayers(players.sort());
}

const NOT_KEPT = ["mishit", "set-aside", "invalid"] as const satisfies readonly Exclude<ComparedLabel, "kept">[];

/** How many shots of either side do not count, by label. Set before anything is measured; never by value. */
export function leftOutNotices(a: readonly ComparedShot[], b: readonly ComparedShot[]): readonly Notice[] {
  const count = (shots: readonly ComparedShot[], label: ComparedLabel): number =>
    shots.filter((shot) => shot.label === label).length;
  return NOT_KEPT.flatMap((label): Notice[] => {
    const [countA, countB] = [count(a, label), count(b, label)];
    return countA + countB === 0 ? [] : [{ code: "left-out", label, countA, countB }];
  });
}

/** The shots that count: kept ones, and mishits where they are asked for too. */
export function countedShots(shots: readonly ComparedShot[], withMishits = false): readonly ComparedShot[] {
  return shots.filter(({ label }) => label === "kept" || (withMishits && label === "mishit"));
}
