import { existsSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";

interface Room {
  readonly pure: boolean;
  readonly mayUse: readonly string[];
  readonly outside: readonly string[];
}
const root = import.meta.dirname;
const { floors, rooms } = JSON.parse(readFileSync(join(root, "architecture.json"), "utf8")) as {
  floors: string[][];
  rooms: Record<string, Room>;
};
const names = readdirSync(join(root, "packages"));
const floorOf = (name: string): number => floors.findIndex((floor) => floor.includes(name));
const sources = (folder: string): string[] =>
  readdirSync(folder, { recursive: true, encoding: "utf8" })
    .filter((file) => /\.tsx?$/.test(file) && !/\.test\.tsx?$/.test(file))
    .map((file) => join(folder, file));

/** Static imports and re-exports at the start of a statement, and dynamic imports; not the word "from" inside a sentence. */
const IMPORTS = /^(?:import|export)\b(?:[^;"]*?\bfrom)?\s*"([^"]+)"|\bimport\(\s*"([^"]+)"/gm;

test("every folder of packages is a known room and stands on exactly one floor", () => {
  expect(names.length).toBeGreaterThan(5);
  expect([...names].sort()).toEqual(Object.keys(rooms).sort());
  expect(floors.flat().sort()).toEqual(Object.keys(rooms).sort());
});

test.each(names)("%s depends only on rooms below that it may use, and on its listed outside packages", (name) => {
  const manifest = JSON.parse(readFileSync(join(root, "packages", name, "package.json"), "utf8"));
  for (const dependency of Object.keys(manifest.dependencies ?? {})) {
    if (dependency.startsWith("@underfoot/")) {
      const below = dependency.slice("@underfoot/".length);
      expect(rooms[name]?.mayUse, `${name} may not use ${below}`).toContain(below);
      expect(floorOf(below), `${below} is not below ${name}`).toBeLessThan(floorOf(name));
    } else expect(rooms[name]?.outside, `${dependency} is not listed for ${name}`).toContain(dependency);
  }
});

test.each(names)("%s imports only what its manifest names, by the door", (name) => {
  const manifest = JSON.parse(readFileSync(join(root, "packages", name, "package.json"), "utf8"));
  const allowed = new Set(Object.keys(manifest.dependencies ?? {}));
  const files = sources(join(root, "packages", name, "src"));
  expect(files.length).toBeGreaterThan(0);
  for (const file of files) {
    for (const [, written, called] of readFileSync(file, "utf8").matchAll(IMPORTS)) {
      const specifier = written ?? called ?? "";
      if (specifier.startsWith(".") || specifier.startsWith("node:")) continue;
      const parts = specifier.split("/");
      const target = specifier.startsWith("@") ? parts.slice(0, 2).join("/") : (parts[0] ?? "");
      expect(allowed, `${file} imports ${specifier}`).toContain(target);
      if (target.startsWith("@underfoot/")) expect(specifier, `${file} goes past the door`).toBe(target);
    }
  }
});

test.each(names.filter((name) => rooms[name]?.pure))("%s is pure: no clock, dice, console, node or locale", (name) => {
  const files = sources(join(root, "packages", name, "src"));
  expect(files.length).toBeGreaterThan(0);
  for (const file of files) {
    const code = readFileSync(file, "utf8");
    expect(code, file).not.toMatch(
      /Math\.random|new Date|Date\.now|\bprocess\.|\bconsole\.|from "node:|toLocale|\bIntl\.|performance\.now/,
    );
  }
});

test("the start of every room is its door", () => {
  for (const name of names) expect(existsSync(join(root, "packages", name, "src", "index.ts"))).toBe(true);
});
