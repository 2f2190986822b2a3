// One thread that computes shots and compares them: one answer to each question, in their order.
import { parentPort } from "node:worker_threads";
import { type CompareWork, compareDone } from "./compare-work.ts";
import { buffersOfCurves } from "./computed-shot.ts";

parentPort?.on("message", (work: CompareWork) => {
  const done = compareDone(work);
  const isOfCurves = "answer" in done && done.answer instanceof Map;
  parentPort?.postMessage(done, isOfCurves ? [...buffersOfCurves(done.answer)] : []);
});
