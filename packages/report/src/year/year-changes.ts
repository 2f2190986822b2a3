import type { YearSession, YearShot } from "./player-year.ts";

/** Something known that was different from a day on. */
export interface YearChange {
  readonly day: string;
  /** In words: "club: lob wedge, before sand wedge". */
  readonly what: string;
  readonly kind: "club" | "shoes" | "plates" | "asked";
}

type OfDay = { readonly day: string; readonly shots: readonly YearShot[] };

const words = (items: readonly (string | undefined)[]): string | undefined => {
  const known = [...new Set(items.filter((item): item is string => item !== undefined))].sort();
  return known.length === 0 ? undefined : known.join(", ");
};

function askedWords(session: YearSession | undefined, intent: string | undefined): string | undefined {
  const asked = session?.asked.find((one) => one.intent === undefined || one.intent === intent);
  if (asked === undefined) return undefined;
  const { least, most } = asked;
  if (least !== undefined && most !== undefined) return `${least} to ${most}`;
  return least !== undefined ? `at least ${least}` : most !== undefined ? `at most ${most}` : undefined;
}

/**
 * Where club, shoes, plate layout or what was asked is known on two days and differs: entered by people, never searched for
 * in the numbers. A day on which it is not known is passed over.
 */
export function yearChanges(days: readonly OfDay[], sessions: ReadonlyMap<string, YearSession>): readonly YearChange[] {
  const sessionOf = (shots: readonly YearShot[]): YearSession | undefined =>
    shots.map(({ sessionId }) => sessions.get(sessionId ?? "")).find((session) => session !== undefined);
  const kinds: readonly (readonly [YearChange["kind"], (shots: readonly YearShot[]) => string | undefined])[] = [
    ["club", (shots) => words(shots.map(({ club }) => club))],
    ["shoes", (shots) => sessionOf(shots)?.shoes],
    ["plates", (shots) => sessionOf(shots)?.layout],
    ["asked", (shots) => askedWords(sessionOf(shots), shots[0]?.intent)],
  ];
  const changes: YearChange[] = [];
  for (const [kind, read] of kinds) {
    let before: string | undefined;
    for (const { day, shots } of days) {
      const now = read(shots);
      if (now === undefined) continue;
      if (before !== undefined && before !== now)
        changes.push({ day, kind, what: `${kind}: ${now}, before ${before}` });
      before = now;
    }
  }
  return changes.sort((a, b) => (a.day < b.day ? -1 : a.day > b.day ? 1 : 0));
}
