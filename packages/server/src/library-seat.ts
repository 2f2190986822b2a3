import { readdir } from "node:fs/promises";
import { isAbsolute } from "node:path";
import { UnderfootError } from "@underfoot/domain";
import type { Library, LibraryChange } from "@underfoot/library";
import { serverFaults } from "./refusals/faults.ts";

/** Runs longer work on the same library, which stays open until that is done too. */
export type KeptOpen = <T>(work: () => Promise<T>) => Promise<T>;

/** The library that is open now. Another can take its place while requests are under way. */
export interface LibrarySeat {
  /** Runs work on the library open now, which stays open until the work is done, and what that keeps it open for. */
  use<T>(work: (library: Library, keptOpen: KeptOpen) => Promise<T>): Promise<T>;
  /** Opens, or makes, the library of another folder; where that fails, everything stays as it is. */
  moveTo(folder: string): Promise<void>;
  /** Told of each change of whichever library is open. */
  changes(listener: (change: LibraryChange) => void): () => void;
  /** Once nobody uses it any more. */
  close(): Promise<void>;
}

export interface SeatOptions {
  /** Opens, or makes, the library of a folder. */
  readonly open: (folder: string) => Promise<Library>;
  /** Keeps the folder for every later start. */
  readonly remember: (folder: string) => Promise<void>;
}

interface Seated {
  readonly library: Library;
  users: number;
  /** Set once another has taken its place. */
  onEmpty?: () => void;
}

/** Only a library's folder, or one with nothing in it: nobody's documents become a library by a slip. */
async function checkFolder(folder: string): Promise<void> {
  if (!isAbsolute(folder)) throw serverFaults.notWholePath(folder);
  const names = await readdir(folder).catch((cause: NodeJS.ErrnoException): string[] => {
    if (cause.code === "ENOENT") return [];
    throw serverFaults.folderUnreadable(folder, cause);
  });
  if (names.length > 0 && !names.includes("recordings")) throw serverFaults.otherThings(folder);
}

export function librarySeat(first: Library, { open, remember }: SeatOptions): LibrarySeat {
  const listeners = new Set<(change: LibraryChange) => void>();
  const seat = (library: Library): Seated => {
    library.changes((change) => {
      for (const listener of listeners) listener(change);
    });
    return { library, users: 0 };
  };
  let now = seat(first);
  const emptied = (seated: Seated): Promise<void> =>
    new Promise((resolve) => {
      if (seated.users === 0) resolve();
      else seated.onEmpty = resolve;
    });
  const leave = async (seated: Seated): Promise<void> => {
    await emptied(seated);
    await seated.library.close();
  };
  let leaving: Promise<void> = Promise.resolve();
  const keptOpen =
    (seated: Seated): KeptOpen =>
    async (work) => {
      seated.users++;
      try {
        return await work();
      } finally {
        seated.users--;
        if (seated.users === 0) seated.onEmpty?.();
      }
    };
  return {
    use: (work) => {
      const keep = keptOpen(now);
      const { library } = now;
      return keep(() => work(library, keep));
    },
    moveTo: async (folder) => {
      if (folder === now.library.folder) return;
      await checkFolder(folder);
      const library = await open(folder);
      try {
        await remember(folder);
      } catch (cause) {
        await library.close();
        throw cause instanceof UnderfootError ? cause : serverFaults.notRemembered(folder, cause);
      }
      const old = now;
      now = seat(library);
      // Not waited for: the request that asks for the move is itself a user of the old one.
      leaving = Promise.all([leaving, leave(old)]).then(() => undefined);
    },
    changes: (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    close: async () => {
      await leave(now);
      await leaving;
    },
  };
}
