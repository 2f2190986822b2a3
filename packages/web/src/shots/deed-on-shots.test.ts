import { expect, test } from "vitest";
import { CallFault } from "../api/call.ts";
import { type DeedWay, deedOnShots } from "./deed-on-shots.ts";

/** Shots with their labels and histories; "c" refuses everything. */
function shots(labels: Record<string, string>) {
  const histories: Record<string, string[]> = {};
  const way = (more: Partial<DeedWay> = {}): DeedWay => ({
    doTo: async (id) => {
      if (id === "c") throw new CallFault({ code: "wrong", sentence: "Nobody has said who it was." });
      if (labels[id] !== "aside") histories[id] = [...(histories[id] ?? []), `${id}${histories[id]?.length ?? 0}`];
      labels[id] = "aside";
    },
    latestOf: async (id) => histories[id]?.at(-1),
    onProgress: () => undefined,
    isStopped: () => false,
    ...more,
  });
  return { labels, histories, way };
}

test("a refused shot holds none of the others up, and one that was so already is not counted", async () => {
  const { way, labels, histories } = shots({ a: "kept", b: "aside", c: "kept", d: "kept" });
  histories["b"] = ["b0"];
  const { changed, refused } = await deedOnShots(["a", "b", "c", "d"], way());
  expect(changed).toEqual([
    { id: "a", historyId: "a0" },
    { id: "d", historyId: "d0" },
  ]);
  expect(refused.map(({ id, fault }) => [id, fault.message])).toEqual([["c", "Nobody has said who it was."]]);
  expect(labels).toEqual({ a: "aside", b: "aside", c: "kept", d: "aside" });
});

test("it says how far it is, and stops between two shots", async () => {
  const told: number[] = [];
  const { way, labels } = shots({ a: "kept", b: "kept", d: "kept" });
  const isStopped = (): boolean => told.length === 2;
  const { changed } = await deedOnShots(["a", "b", "d"], way({ onProgress: (done) => told.push(done), isStopped }));
  expect(told).toEqual([1, 2]);
  expect(changed.map(({ id }) => id)).toEqual(["a", "b"]);
  expect(labels["d"]).toBe("kept");
});

test("a defect of ours is no refusal", async () => {
  const { way } = shots({});
  const doTo = (): Promise<never> => Promise.reject(new RangeError("ours"));
  await expect(deedOnShots(["a"], way({ doTo }))).rejects.toThrow("ours");
});
