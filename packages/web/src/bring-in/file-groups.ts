import type { PickedRecording } from "./picked-folders.ts";

/** What the first bytes of a file tell. */
export type FileKind =
  | {
      readonly status: "known";
      readonly format: "c3d" | "text";
      readonly columns: readonly string[];
      readonly rateHz: number;
      readonly key: string;
    }
  | { readonly status: "error"; readonly code: string; readonly sentence: string; readonly remedy: string };

/** Files with the same columns: what is understood of one holds for all. */
export interface FileGroup {
  readonly key: string;
  readonly format: "c3d" | "text";
  readonly columns: readonly string[];
  readonly rateHz: number;
  readonly recordings: readonly PickedRecording[];
}

/** A file that cannot be read, and what can be done. */
export interface FileProblem {
  readonly recording: PickedRecording;
  readonly code: string;
  readonly sentence: string;
  readonly remedy: string;
}

/** Groups by columns, the largest first; what cannot be read stands apart. */
export function fileGroups(looked: readonly { readonly recording: PickedRecording; readonly kind: FileKind }[]): {
  readonly groups: readonly FileGroup[];
  readonly problems: readonly FileProblem[];
} {
  const groups = new Map<string, FileGroup>();
  const problems: FileProblem[] = [];
  for (const { recording, kind } of looked) {
    if (kind.status === "error") {
      const { code, sentence, remedy } = kind;
      problems.push({ recording, code, sentence, remedy });
      continue;
    }
    const { key, format, columns, rateHz } = kind;
    const group = groups.get(key) ?? { key, format, columns, rateHz, recordings: [] };
    groups.set(key, { ...group, recordings: [...group.recordings, recording] });
  }
  const sorted = [...groups.values()].sort((a, b) => b.recordings.length - a.recordings.length);
  return { groups: sorted, problems };
}
