import {
  type ColumnMapping,
  columnMappingFromText,
  columnMappingText,
  mappingFor,
  recordingFormat,
  textSniff,
} from "@underfoot/formats";
import { libraryFaults } from "../faults.ts";
import type { LibrarySettings } from "./library-settings.ts";

/** The settings that hold mappings: "mapping.NAME". */
const PREFIX = "mapping.";

/** What was said once of the columns of a kind of text, by name; each change can be undone like any setting. */
export interface Mappings {
  /** By name. */
  list(): Promise<readonly ColumnMapping[]>;
  /** @throws UnderfootError library-not-there */
  byName(name: string): Promise<ColumnMapping>;
  /** The kept one whose columns fit a text; undefined where none does, or where the recording is no text. */
  fitting(recording: { readonly bytes: Uint8Array; readonly fileName: string }): Promise<ColumnMapping | undefined>;
  /** In place of the one of this name, if there is one. */
  keep(name: string, mapping: ColumnMapping, by?: string): Promise<ColumnMapping>;
  remove(name: string, by?: string): Promise<void>;
}

/** Kept in the file format of mappings, so that it carries its version and is checked when it is read. */
function mappingFrom(value: unknown, name: string): ColumnMapping {
  const mapping = columnMappingFromText(JSON.stringify(value), { file: `The mapping ${name} of this library` });
  return { ...mapping, name };
}

export function mappings(settings: LibrarySettings): Mappings {
  const byName = async (name: string): Promise<ColumnMapping> => {
    const value = await settings.read(`${PREFIX}${name}`);
    if (value === undefined) throw libraryFaults.notThere("mapping", name);
    return mappingFrom(value, name);
  };
  const list = async (): Promise<readonly ColumnMapping[]> =>
    Object.entries(await settings.all())
      .filter(([key]) => key.startsWith(PREFIX))
      .map(([key, value]) => mappingFrom(value, key.slice(PREFIX.length)));
  return {
    byName,
    list,
    fitting: async ({ bytes, fileName }) => {
      if (recordingFormat(bytes, fileName) !== "text" || /\.c3d$/i.test(fileName)) return undefined;
      const columns = textSniff(bytes, {}, { file: fileName }).columns.map(({ name }) => name);
      return mappingFor(await list(), columns);
    },
    keep: async (name, mapping, by) => {
      if (name.trim() === "" || name.length > 80 || /[\n\r]/.test(name))
        throw libraryFaults.wrong(`"${name}" is no name for a mapping.`, "Give 1 to 80 characters on one line.");
      const text = columnMappingText({ ...mapping, name });
      const kept = mappingFrom(JSON.parse(text), name);
      await settings.set(`${PREFIX}${name}`, JSON.parse(text), by);
      return kept;
    },
    remove: async (name, by) => {
      await byName(name);
      await settings.set(`${PREFIX}${name}`, undefined, by);
    },
  };
}
