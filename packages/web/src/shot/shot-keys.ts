/** Everything a key can do on the shot page. Each has a button too. */
export type ShotDeed =
  | "earlier"
  | "later"
  | "tenEarlier"
  | "tenLater"
  | "previousEvent"
  | "nextEvent"
  | "previousShot"
  | "nextShot"
  | "mark"
  | "undo"
  | "axes"
  | "theme"
  | "print"
  | "keys";

export interface ShotKey {
  readonly key: string;
  /** As written on the list of keys. */
  readonly shown: string;
  readonly deed: ShotDeed;
  readonly does: string;
  /** Single letters can be switched off (WCAG 2.2, 2.1.4). */
  readonly isLetter: boolean;
  readonly shift?: boolean;
  readonly control?: boolean;
}

export const SHOT_KEYS: readonly ShotKey[] = [
  { key: "ArrowLeft", shown: "Left", deed: "earlier", does: "ruler one frame earlier", isLetter: false },
  { key: "ArrowRight", shown: "Right", deed: "later", does: "ruler one frame later", isLetter: false },
  {
    key: "ArrowLeft",
    shift: true,
    shown: "Shift Left",
    deed: "tenEarlier",
    does: "ruler ten frames earlier",
    isLetter: false,
  },
  {
    key: "ArrowRight",
    shift: true,
    shown: "Shift Right",
    deed: "tenLater",
    does: "ruler ten frames later",
    isLetter: false,
  },
  { key: ",", shown: ",", deed: "previousEvent", does: "ruler to the previous event", isLetter: true },
  { key: ".", shown: ".", deed: "nextEvent", does: "ruler to the next event", isLetter: true },
  { key: "[", shown: "[", deed: "previousShot", does: "previous shot", isLetter: true },
  { key: "]", shown: "]", deed: "nextShot", does: "next shot", isLetter: true },
  { key: "e", shown: "E", deed: "mark", does: "mark an event at the ruler", isLetter: true },
  { key: "u", shown: "U", deed: "undo", does: "undo the last mark or entry", isLetter: true },
  { key: "z", control: true, shown: "Ctrl Z", deed: "undo", does: "the same", isLetter: false },
  { key: "l", shown: "L", deed: "axes", does: "turf or level axes", isLetter: true },
  { key: "d", shown: "D", deed: "theme", does: "theme: sun, desk, dusk", isLetter: true },
  { key: "p", shown: "P", deed: "print", does: "print this page", isLetter: true },
  { key: "?", shown: "?", deed: "keys", does: "this list", isLetter: true },
];

export interface KeyPress {
  readonly key: string;
  readonly shiftKey: boolean;
  readonly ctrlKey: boolean;
  readonly metaKey: boolean;
  readonly altKey: boolean;
}

/**
 * What a key press asks for; undefined where it is not ours.
 * @param areLettersOn  false where the person switched single letters off
 */
export function deedOfKey(press: KeyPress, areLettersOn: boolean): ShotDeed | undefined {
  if (press.altKey) return undefined;
  const key = press.key.length === 1 ? press.key.toLowerCase() : press.key;
  const control = press.ctrlKey || press.metaKey;
  const found = SHOT_KEYS.find(
    (candidate) =>
      candidate.key === key &&
      (candidate.control ?? false) === control &&
      // A sign such as ? may need Shift on one keyboard and not on another.
      (candidate.isLetter || (candidate.shift ?? false) === press.shiftKey),
  );
  return found && (areLettersOn || !found.isLetter) ? found.deed : undefined;
}
