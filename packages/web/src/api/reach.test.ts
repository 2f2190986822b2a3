import { expect, test } from "vitest";
import { reachOf } from "./reach.ts";

function reached(answers: boolean[]) {
  const waiting: (() => void)[] = [];
  const asked = { times: 0 };
  const it = reachOf(
    () => {
      asked.times++;
      return Promise.resolve(answers.shift() ?? false);
    },
    (work) => waiting.push(work),
  );
  const heard: boolean[] = [];
  it.follow(() => heard.push(it.isReached()));
  const wait = async (): Promise<void> => {
    waiting.shift()?.();
    await Promise.resolve();
    await Promise.resolve();
  };
  return { it, heard, asked, waiting, wait };
}

test("a lost server is asked again until it answers, and each turn is told once", async () => {
  const { it, heard, asked, wait, waiting } = reached([false, true]);
  it.note(true);
  expect(heard).toEqual([]);
  it.note(false);
  it.note(false);
  expect(heard).toEqual([false]);
  await wait();
  expect(it.isReached()).toBe(false);
  await wait();
  expect(it.isReached()).toBe(true);
  expect(heard).toEqual([false, true]);
  expect(asked.times).toBe(2);
  expect(waiting).toEqual([]);
});

test("a person who tries again does not wait, and what was waiting asks nothing more", async () => {
  const { it, asked, wait } = reached([true]);
  it.note(false);
  it.tryNow();
  await Promise.resolve();
  await Promise.resolve();
  expect(it.isReached()).toBe(true);
  await wait();
  expect(asked.times).toBe(1);
});
