// Moving the ruler over a shot, in the browser that the tests use: what one move costs in script, and whether frames keep up.

/** No options. The work is in e2e/, which is checked with the browser's types; this folder is not. */
export async function run(): Promise<object> {
  const work = new URL("../e2e/ruler-timings.ts", import.meta.url).href;
  const { rulerTimings } = (await import(work)) as { rulerTimings(): Promise<object> };
  return rulerTimings();
}
