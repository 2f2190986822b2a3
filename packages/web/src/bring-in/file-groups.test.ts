import { expect, test } from "vitest";
import { type FileKind, fileGroups } from "./file-groups.ts";

const recording = (path: string) => ({ path, file: new File(["x"], path) });
const known = (key: string): FileKind => ({
  status: "known",
  format: "c3d",
  columns: ["Fz1", "Fz2"],
  rateHz: 1000,
  key,
});

test("files with the same columns are one group, the largest first, in their order", () => {
  const { groups, problems } = fileGroups([
    { recording: recording("1.c3d"), kind: known("a") },
    { recording: recording("2.c3d"), kind: known("b") },
    { recording: recording("3.c3d"), kind: known("b") },
  ]);
  expect(groups.map(({ key, recordings }) => [key, recordings.map(({ path }) => path)])).toEqual([
    ["b", ["2.c3d", "3.c3d"]],
    ["a", ["1.c3d"]],
  ]);
  expect(problems).toEqual([]);
});

test("a file that is no recording is in no group and keeps its sentence", () => {
  const kind = {
    status: "error",
    code: "not-c3d",
    sentence: "x.c3d is no C3D file.",
    remedy: "Export it again.",
  } as const;
  const { groups, problems } = fileGroups([{ recording: recording("x.c3d"), kind }]);
  expect(groups).toEqual([]);
  expect(problems).toMatchObject([
    { recording: { path: "x.c3d" }, code: "not-c3d", sentence: "x.c3d is no C3D file." },
  ]);
});
