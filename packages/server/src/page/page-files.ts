import { readdir, readFile } from "node:fs/promises";
import { extname, join, sep } from "node:path";
import { UnderfootError } from "@underfoot/domain";

/** The built page, held in memory under its addresses. */
export type PageFiles = ReadonlyMap<string, { readonly bytes: Uint8Array<ArrayBuffer>; readonly type: string }>;

const TYPES: Readonly<Record<string, string>> = {
  ".html": "text/html; charset=utf-8",
  ".js": "text/javascript; charset=utf-8",
  ".css": "text/css; charset=utf-8",
  ".svg": "image/svg+xml",
  ".png": "image/png",
  ".woff2": "font/woff2",
  ".woff": "font/woff",
  ".json": "application/json",
  ".webmanifest": "application/manifest+json",
};

/** Reads every file of the built page once; no request can then name a path on the disk. */
export async function pageFiles(folder: string): Promise<PageFiles> {
  const files = new Map<string, { bytes: Uint8Array<ArrayBuffer>; type: string }>();
  let names: string[];
  try {
    names = (await readdir(folder, { recursive: true, withFileTypes: true }))
      .filter((one) => one.isFile())
      .map((one) => join(one.parentPath, one.name).slice(folder.length + 1));
  } catch (cause) {
    throw new UnderfootError({
      code: "page-missing",
      sentence: `The page is not built: there is no ${folder}.`,
      remedy: 'Run "npm start" in Underfoot\'s folder; it builds the page first.',
      cause,
    });
  }
  for (const name of names) {
    const type = TYPES[extname(name)] ?? "application/octet-stream";
    files.set(`/${name.split(sep).join("/")}`, { bytes: new Uint8Array(await readFile(join(folder, name))), type });
  }
  const index = files.get("/index.html");
  if (index) files.set("/", index);
  return files;
}
