// Moves the ruler over a shot in a real browser and times each frame; bench/ruler.ts reports it.
import { servedPage } from "./served-page.ts";

const MOVES = 400;

interface Timings {
  readonly scriptMs: readonly number[];
  readonly gapMs: readonly number[];
}

const at = (values: readonly number[], share: number): number => {
  const sorted = [...values].sort((a, b) => a - b);
  return Number((sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? Number.NaN).toFixed(2));
};

/** One move a frame for 400 frames: script time of a frame from the key press to the end of the drawing code, and frame gaps. */
export async function rulerTimings(): Promise<object> {
  const served = await servedPage();
  try {
    const { page } = await served.open({ shot: 7 });
    const timings = await page.evaluate(async (moves): Promise<Timings> => {
      const slider = document.querySelector("[role=slider]") as HTMLElement;
      slider.focus();
      const press = (key: string, shiftKey: boolean) =>
        slider.dispatchEvent(new KeyboardEvent("keydown", { key, shiftKey, bubbles: true, cancelable: true }));
      press("Home", false);
      const frame = () => new Promise<number>((resolve) => requestAnimationFrame(resolve));
      await frame();
      await frame();
      const scriptMs: number[] = [];
      const gapMs: number[] = [];
      let last = await frame();
      for (let k = 0; k < moves; k++) {
        const begun = performance.now();
        press(k % 200 < 100 ? "ArrowRight" : "ArrowLeft", true);
        const pressed = performance.now() - begun;
        // The page's own frame callback was asked for first, so it has run when ours does.
        const now = await frame();
        scriptMs.push(pressed + performance.now() - now);
        gapMs.push(now - last);
        last = now;
      }
      return { scriptMs, gapMs };
    }, MOVES);
    return {
      moves: MOVES,
      scriptMsMedian: at(timings.scriptMs, 0.5),
      scriptMs95: at(timings.scriptMs, 0.95),
      frameGapMsMedian: at(timings.gapMs, 0.5),
      frameGapMs95: at(timings.gapMs, 0.95),
    };
  } finally {
    await served.stop();
  }
}
