import { UnderfootError } from "@underfoot/domain";
import type { Library } from "@underfoot/library";
import type { ChangeHub } from "../change-hub.ts";
import type { LibrarySeat } from "../library-seat.ts";

export interface WatchOptions {
  readonly seat: LibrarySeat;
  readonly hub: ChangeHub;
  /** A backup each day; never of what is invented. */
  readonly isBackedUp: boolean;
  /** Told in one sentence what could not be done. */
  readonly warn: (sentence: string) => void;
}

const LOOK_APART_MS = 1000;
const BACKUP_APART_MS = 60 * 60 * 1000;

const sentenceOf = (fault: unknown): string =>
  fault instanceof UnderfootError
    ? `${fault.message} ${fault.remedy}`
    : `${fault instanceof Error ? fault.message : String(fault)}. This is our fault.`;

/** Work done again and again, never twice at once. @returns stops it, after what is in hand */
function again(apartMs: number, work: () => Promise<void>): () => Promise<void> {
  let inHand: Promise<void> | undefined;
  const timer = setInterval(() => {
    inHand ??= work().finally(() => {
      inHand = undefined;
    });
  }, apartMs);
  timer.unref();
  return async () => {
    clearInterval(timer);
    await inHand;
  };
}

/**
 * What the server does by itself: looks each second whether another program changed the library, while a page listens;
 * and makes today's backup, at once and then each hour if it is not there yet. A failure is said, and ends nothing.
 *
 * @returns stops it, after what is in hand
 */
export function watching({ seat, hub, isBackedUp, warn }: WatchOptions): () => Promise<void> {
  let saidOfLooking = "";
  const look = async (library: Library): Promise<void> => {
    try {
      await library.lookElsewhere();
      saidOfLooking = "";
    } catch (fault) {
      const sentence = sentenceOf(fault);
      // Once, not each second.
      if (sentence !== saidOfLooking) warn(sentence);
      saidOfLooking = sentence;
    }
  };
  const backUp = async (library: Library): Promise<void> => {
    try {
      const { made } = await library.dailyBackup();
      if (made) hub.tell({ kind: "job", id: "", deed: `wrote today's backup, ${made.file}` });
    } catch (fault) {
      const sentence = `Today's backup could not be written: ${sentenceOf(fault)}`;
      warn(sentence);
      hub.tell({ kind: "job", id: "", deed: sentence });
    }
  };
  const stopLooking = again(LOOK_APART_MS, async () => {
    if (hub.size() > 0) await seat.use(look);
  });
  if (!isBackedUp) return stopLooking;
  const first = seat.use(backUp);
  const stopBackingUp = again(BACKUP_APART_MS, () => seat.use(backUp));
  return async () => {
    await Promise.all([stopLooking(), stopBackingUp(), first]);
  };
}
