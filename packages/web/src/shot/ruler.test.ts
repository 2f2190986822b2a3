import { expect, test } from "vitest";
import { ruler } from "./ruler.ts";

function rulerByHand(): { readonly it: ReturnType<typeof ruler>; readonly frame: () => void } {
  const waiting: (() => void)[] = [];
  const it = ruler((draw) => waiting.push(draw));
  it.bound({ firstS: 1, lastS: 2, frameS: 0.001 });
  return { it, frame: () => waiting.splice(0).forEach((draw) => void draw()) };
}

test("many moves within one frame are told once, with the last place", () => {
  const { it, frame } = rulerByHand();
  const seen: number[] = [];
  it.follow(() => seen.push(it.timeS()));
  it.move(1.2);
  it.move(1.3);
  it.move(1.4);
  frame();
  expect(seen).toEqual([expect.closeTo(1.4, 12)]);
});

test("the ruler stops at the ends and stands on whole frames", () => {
  const { it } = rulerByHand();
  it.move(9);
  expect(it.timeS()).toBe(2);
  it.move(-1);
  expect(it.timeS()).toBe(1);
  it.move(1.50049);
  expect(it.timeS()).toBeCloseTo(1.5, 12);
});

test("a follower that has left hears nothing more", () => {
  const { it, frame } = rulerByHand();
  let heard = 0;
  const leave = it.follow(() => {
    heard++;
  });
  leave();
  it.move(1.7);
  frame();
  expect(heard).toBe(0);
});
