/** A preference of this browser. Nothing about a player is ever kept here. */
export type RememberedName = "theme" | "letters";

/** The remembered word, or undefined where there is none or the browser keeps nothing. */
export function remembered(name: RememberedName): string | undefined {
  return storage()?.getItem(`underfoot ${name}`) ?? undefined;
}

export function remember(name: RememberedName, word: string): void {
  storage()?.setItem(`underfoot ${name}`, word);
}

/** Browsers that are told to keep nothing throw at the mere look at their storage. */
function storage(): Storage | undefined {
  try {
    return localStorage;
  } catch (fault) {
    if (fault instanceof DOMException) return undefined;
    throw fault;
  }
}
