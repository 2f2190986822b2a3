import { createHash } from "node:crypto";
import { existsSync } from "node:fs";
import { readFile, stat } from "node:fs/promises";
import { basename, dirname, join } from "node:path";
import { UnderfootError } from "@underfoot/domain";
import { type ColumnMapping, columnMappingFromText, sidecarNamesFor } from "@underfoot/formats";

/** A file as the chain wants it. */
export interface RecordingFile {
  readonly bytes: Uint8Array;
  readonly file: string;
  readonly sha256: string;
  readonly sidecarText?: string;
}

/** Bytes of a file, with a sentence where there are none to be had. */
export async function fileBytes(path: string): Promise<Uint8Array> {
  try {
    if ((await stat(path)).isDirectory()) {
      throw new UnderfootError({
        code: "is-folder",
        sentence: `${path} is a folder, not a recording.`,
        remedy: `Name the files in it, for example ${join(path, "*.c3d")}.`,
        where: { file: path },
      });
    }
    return await readFile(path);
  } catch (cause) {
    if (cause instanceof UnderfootError) throw cause;
    const code = (cause as NodeJS.ErrnoException).code;
    const why =
      code === "ENOENT"
        ? "is not there"
        : code === "EACCES"
          ? "may not be read by this user"
          : `could not be read (${code ?? String(cause)})`;
    throw new UnderfootError({
      code: code === "ENOENT" ? "file-not-found" : "file-unreadable",
      sentence: `The file ${path} ${why}.`,
      remedy: "Check the name and the folder, or who may read it.",
      where: { file: path },
      cause,
    });
  }
}

/** The file, its hash, and the sidecar beside it or the one named. */
export async function recordingFile(path: string, sidecar?: string): Promise<RecordingFile> {
  const bytes = await fileBytes(path);
  const beside = sidecarNamesFor(basename(path)).map((name) => join(dirname(path), name));
  const sidecarPath = sidecar ?? beside.find((name) => existsSync(name));
  const sidecarText = sidecarPath === undefined ? undefined : new TextDecoder().decode(await fileBytes(sidecarPath));
  return {
    bytes,
    file: path,
    sha256: createHash("sha256").update(bytes).digest("hex"),
    ...(sidecarText === undefined ? {} : { sidecarText }),
  };
}

/** The column mapping named with --mapping, if any. */
export async function mappingOf(path: string | undefined): Promise<{ readonly mapping?: ColumnMapping }> {
  return path === undefined
    ? {}
    : { mapping: columnMappingFromText(new TextDecoder().decode(await fileBytes(path)), { file: path }) };
}
