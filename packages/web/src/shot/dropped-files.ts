import { sidecarNamesFor } from "@underfoot/formats";
import type { Source } from "./source.ts";

/** A file that is not opened, and what can be done about it. */
export interface RefusedFile {
  readonly file: string;
  readonly sentence: string;
  readonly remedy: string;
}

export interface DroppedFiles {
  readonly sources: readonly Source[];
  readonly refused: readonly RefusedFile[];
}

const isSidecar = (name: string): boolean => name.toLowerCase().endsWith(".json");

/**
 * Recordings and their sidecars from files that were dropped or chosen together. A sidecar goes with the recording of
 * its name; one without its recording is refused with a sentence. Nothing is read before a recording is opened.
 */
export function droppedFiles(files: readonly File[]): DroppedFiles {
  const sidecars = new Map(files.filter((file) => isSidecar(file.name)).map((file) => [file.name, file]));
  const used = new Set<string>();
  const sources = files
    .filter((file) => !isSidecar(file.name))
    .map((file): Source => {
      const name = sidecarNamesFor(file.name).find((candidate) => sidecars.has(candidate));
      if (name !== undefined) used.add(name);
      const sidecar = name === undefined ? undefined : sidecars.get(name);
      return {
        id: `file ${file.name}`,
        kind: "file",
        file: file.name,
        files: sidecar === undefined ? [file] : [file, sidecar],
        read: async () => ({ bytes: new Uint8Array(await file.arrayBuffer()), sidecarText: await sidecar?.text() }),
      };
    });
  const refused = [...sidecars.keys()]
    .filter((name) => !used.has(name))
    .map((file) => ({
      file,
      sentence: `${file} is a sidecar without its recording.`,
      remedy: "Drop it together with the recording of the same name.",
    }));
  return { sources, refused };
}
