import { answer, type Work } from "@underfoot/pipeline";

addEventListener("message", ({ data }: MessageEvent<Work>) => postMessage(answer(data)));
