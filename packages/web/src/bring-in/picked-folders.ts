import { sidecarNamesFor } from "@underfoot/formats";

/** A file as it was dropped or chosen; its path begins with the folder it was dropped with. */
export interface PickedFile {
  /** "session 3/one/shot-17.c3d"; the bare name of a file that came alone. */
  readonly path: string;
  readonly file: File;
}

/** A file that may be a recording, with the sidecar beside it. */
export interface PickedRecording extends PickedFile {
  readonly sidecar?: PickedFile;
}

/** What was dropped or chosen together: one folder with all below it, or loose files. */
export interface PickedFolder {
  /** Empty for loose files. */
  readonly name: string;
  /** In order of their paths, numbers by their size. */
  readonly recordings: readonly PickedRecording[];
  /** Files that are neither recording nor sidecar. */
  readonly passedOver: number;
  /** Paths of sidecars that no recording stands beside. */
  readonly sidecarsAlone: readonly string[];
}

const RECORDING = /\.(c3d|csv|tsv|txt)$/i;
const SIDECAR = /\.(shot|underfoot)\.json$/i;
/** What every recording of a folder takes that has no sidecar of its own. */
const FOLDER_SIDECARS = ["folder.shot.json", "folder.underfoot.json"] as const;

const inOrder = new Intl.Collator("en", { numeric: true });
const directoryOf = (path: string): string => path.slice(0, path.lastIndexOf("/") + 1);

/** Folders in the order they came, each file once; sidecars beside their recordings, hidden files left out. */
export function pickedFolders(files: readonly PickedFile[]): readonly PickedFolder[] {
  const distinct = [...new Map(files.map((picked) => [picked.path, picked])).values()].filter(
    ({ path }) => !path.split("/").some((part) => part.startsWith(".")),
  );
  const names = [...new Set(distinct.map(({ path }) => rootOf(path)))];
  return names.map((name) =>
    pickedFolder(
      name,
      distinct.filter(({ path }) => rootOf(path) === name),
    ),
  );
}

const rootOf = (path: string): string => (path.includes("/") ? path.slice(0, path.indexOf("/")) : "");

function pickedFolder(name: string, files: readonly PickedFile[]): PickedFolder {
  const sidecars = new Map(files.filter(({ path }) => SIDECAR.test(path)).map((picked) => [picked.path, picked]));
  const used = new Set<string>();
  const recordings = files
    .filter(({ path }) => RECORDING.test(path))
    .sort((a, b) => inOrder.compare(a.path, b.path))
    .map((picked): PickedRecording => {
      const beside = [
        ...sidecarNamesFor(picked.path),
        ...FOLDER_SIDECARS.map((own) => `${directoryOf(picked.path)}${own}`),
      ];
      const found = beside.find((path) => sidecars.has(path));
      const sidecar = found === undefined ? undefined : sidecars.get(found);
      if (sidecar === undefined) return picked;
      used.add(sidecar.path);
      return { ...picked, sidecar };
    });
  return {
    name,
    recordings,
    passedOver: files.length - recordings.length - sidecars.size,
    sidecarsAlone: [...sidecars.keys()].filter((path) => !used.has(path)),
  };
}
