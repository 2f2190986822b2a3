import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import type { Page } from "playwright-core";

const axeSource = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

interface AxeAnswer {
  readonly passes: readonly unknown[];
  readonly violations: readonly {
    readonly id: string;
    readonly nodes: readonly { readonly html: string; readonly failureSummary?: string }[];
  }[];
}

/**
 * WCAG 2.2 A and AA rules of axe-core; each violation as "rule: element".
 *
 * @param leastPasses  a checker that looked at nothing would find nothing: fewer rules passed than this is thrown
 */
export async function axeViolations(page: Page, leastPasses = 12): Promise<readonly string[]> {
  // The policy forbids inline scripts, so the checker goes in as the debugger's own.
  await page.evaluate(axeSource);
  const answer = await page.evaluate(() =>
    (globalThis as unknown as { axe: { run: (options: object) => Promise<AxeAnswer> } }).axe.run({
      runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"],
    }),
  );
  if (answer.passes.length < leastPasses) throw new RangeError(`axe looked at ${answer.passes.length} rules only`);
  return answer.violations.flatMap(({ id, nodes }) =>
    nodes.map(({ html, failureSummary }) => `${id}: ${html.slice(0, 160)} ${failureSummary ?? ""}`),
  );
}
