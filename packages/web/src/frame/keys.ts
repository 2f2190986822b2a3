/** One key of a screen. Whatever it does has a button or a link too. */
export interface ScreenKey<D extends string = string> {
  readonly key: string;
  /** As written on the list of keys. */
  readonly shown: string;
  readonly deed: D;
  readonly does: string;
  /** Single letters can be switched off (WCAG 2.2, 2.1.4). */
  readonly isLetter: boolean;
  readonly shift?: boolean;
  readonly control?: boolean;
}

export interface KeyPress {
  readonly key: string;
  readonly shiftKey: boolean;
  readonly ctrlKey: boolean;
  readonly metaKey: boolean;
  readonly altKey: boolean;
}

export type FrameDeed = "theme" | "print" | "keys";

/** What keys do on every screen. */
export const FRAME_KEYS: readonly ScreenKey<FrameDeed>[] = [
  { key: "d", shown: "D", deed: "theme", does: "theme: sun, desk, dusk", isLetter: true },
  { key: "p", shown: "P", deed: "print", does: "print this page", isLetter: true },
  { key: "?", shown: "?", deed: "keys", does: "this list", isLetter: true },
];

/**
 * What a key press asks for; undefined where it is not ours.
 * @param areLettersOn  false where the person switched single letters off
 */
export function deedOfKey<D extends string>(
  press: KeyPress,
  keys: readonly ScreenKey<D>[],
  areLettersOn: boolean,
): D | undefined {
  if (press.altKey) return undefined;
  const key = press.key.length === 1 ? press.key.toLowerCase() : press.key;
  const control = press.ctrlKey || press.metaKey;
  const found = keys.find(
    (candidate) =>
      candidate.key === key &&
      (candidate.control ?? false) === control &&
      // A sign such as ? may need Shift on one keyboard and not on another.
      (candidate.isLetter || (candidate.shift ?? false) === press.shiftKey),
  );
  return found && (areLettersOn || !found.isLetter) ? found.deed : undefined;
}
