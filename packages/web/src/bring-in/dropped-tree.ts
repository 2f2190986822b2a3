import type { PickedFile } from "./picked-folders.ts";

/** What was dropped, folders gone through to the bottom. Call it in the drop event itself: the items are gone after it. */
export async function droppedTree(transfer: DataTransfer): Promise<readonly PickedFile[]> {
  const entries = [...transfer.items].flatMap((item) => item.webkitGetAsEntry?.() ?? []);
  if (entries.length === 0) return [...transfer.files].map((file) => ({ path: file.name, file }));
  return (await Promise.all(entries.map((entry) => filesUnder(entry)))).flat();
}

async function filesUnder(entry: FileSystemEntry): Promise<readonly PickedFile[]> {
  const path = entry.fullPath.replace(/^\//, "");
  if (isFile(entry)) {
    const file = await new Promise<File>((resolve, reject) => entry.file(resolve, reject));
    return [{ path, file }];
  }
  if (!isDirectory(entry)) return [];
  const files: PickedFile[] = [];
  const reader = entry.createReader();
  for (;;) {
    // A folder is given a hundred entries at a time; none left is the end.
    const some = await new Promise<FileSystemEntry[]>((resolve, reject) => reader.readEntries(resolve, reject));
    if (some.length === 0) return files;
    for (const one of some) files.push(...(await filesUnder(one)));
  }
}

const isFile = (entry: FileSystemEntry): entry is FileSystemFileEntry => entry.isFile;
const isDirectory = (entry: FileSystemEntry): entry is FileSystemDirectoryEntry => entry.isDirectory;
