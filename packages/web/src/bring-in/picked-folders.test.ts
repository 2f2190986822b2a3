import { expect, test } from "vitest";
import { type PickedFile, pickedFolders } from "./picked-folders.ts";

const picked = (...paths: readonly string[]): readonly PickedFile[] =>
  paths.map((path) => ({ path, file: new File(["x"], path.split("/").at(-1) ?? path) }));

test("a sidecar goes with the recording of its name in the same folder, and with no other", () => {
  const [folder] = pickedFolders(picked("day/b/7.c3d", "day/a/7.c3d", "day/a/7.shot.json", "day/a/8.underfoot.json"));
  expect(folder?.recordings.map(({ path, sidecar }) => [path, sidecar?.path])).toEqual([
    ["day/a/7.c3d", "day/a/7.shot.json"],
    ["day/b/7.c3d", undefined],
  ]);
  expect(folder?.sidecarsAlone).toEqual(["day/a/8.underfoot.json"]);
});

test("a folder's own sidecar serves every recording of that folder that has none", () => {
  const [folder] = pickedFolders(
    picked("day/1.c3d", "day/1.shot.json", "day/2.c3d", "day/folder.shot.json", "day/sub/3.c3d"),
  );
  expect(folder?.recordings.map(({ sidecar }) => sidecar?.path)).toEqual([
    "day/1.shot.json",
    "day/folder.shot.json",
    undefined,
  ]);
  expect(folder?.sidecarsAlone).toEqual([]);
});

test("folders stay apart, loose files make one of their own, and other files are counted only", () => {
  const folders = pickedFolders(picked("one/1.c3d", "loose.csv", "one/film.mp4", "two/2.TXT", "one/.hidden.c3d"));
  expect(folders.map(({ name, recordings, passedOver }) => [name, recordings.length, passedOver])).toEqual([
    ["one", 1, 1],
    ["", 1, 0],
    ["two", 1, 0],
  ]);
});

test("recordings stand in the order of their numbers, each once", () => {
  const [folder] = pickedFolders(picked("shot-10.c3d", "shot-9.c3d", "shot-10.c3d"));
  expect(folder?.recordings.map(({ path }) => path)).toEqual(["shot-9.c3d", "shot-10.c3d"]);
});
