import type { PickedFile } from "./picked-folders.ts";

let handed: readonly PickedFile[] = [];

/** Files that were given on another screen and are to be brought in: go to `#/bring-in` after it. */
export function handOver(files: readonly File[]): void {
  handed = files.map((file) => ({ path: file.webkitRelativePath || file.name, file }));
}

/** What was handed over; it is then no longer here. */
export function takeHanded(): readonly PickedFile[] {
  const taken = handed;
  handed = [];
  return taken;
}
