import type { FileSystem } from "../disk/file-system.ts";
import { recordingEntry } from "./backup.ts";
import { tarEntries } from "./tar.ts";

/** One recording out of a backup, unchecked; undefined where it is not in it. */
export async function recordingInBackup(
  files: FileSystem,
  file: string,
  sha256: string,
): Promise<Uint8Array | undefined> {
  const source = await files.openReader(file);
  try {
    for await (const entry of tarEntries(source, file)) {
      if (entry.name === recordingEntry(sha256)) return await source.read(entry.first, entry.byteCount);
    }
    return undefined;
  } finally {
    await source.close();
  }
}
