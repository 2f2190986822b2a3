// One thread that computes shots and compares them: one answer to each question, in their order.
import { parentPort } from "node:worker_threads";
import { type CompareWork, compareDone } from "./compare-work.ts";
import { buffersOfComputed } from "./computed-shot.ts";

parentPort?.on("message", (work: CompareWork) => {
  const done = compareDone(work);
  const isShot = "answer" in done && "numbers" in done.answer;
  parentPort?.postMessage(done, isShot ? [...buffersOfComputed(done.answer)] : []);
});
