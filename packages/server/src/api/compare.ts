import { asJson } from "@underfoot/compare";
import { shotsAsked } from "@underfoot/domain";
import { routes } from "@underfoot/protocol";
import { serverFaults } from "../refusals/faults.ts";
import { apiRoom } from "./api-room.ts";

/** Words between commas. */
function words(text: string | undefined): readonly string[] | undefined {
  if (text === undefined) return undefined;
  return text
    .split(",")
    .map((word) => word.trim())
    .filter((word) => word !== "");
}

/** Numbers by name: lead.share.at.impact=5,both.target.peak=12. */
function numbersByName(text: string | undefined): Readonly<Record<string, number>> {
  const parts = (words(text) ?? []).map((part) => {
    const at = part.lastIndexOf("=");
    const value = at < 0 || part.slice(at + 1).trim() === "" ? Number.NaN : Number(part.slice(at + 1));
    if (!Number.isFinite(value))
      throw serverFaults.wrongRequest(`"${part}" must be a measure, = and a number, such as lead.share.at.impact=5.`);
    return [part.slice(0, at).trim(), value] as const;
  });
  return Object.fromEntries(parts);
}

/** What all questions say in the same words. */
function view<Q extends { readonly measures?: string | undefined; readonly curves?: string | undefined }>({
  measures,
  curves,
  ...others
}: Q) {
  return { ...others, measures: words(measures), curves: words(curves) };
}

/** What was asked for and is no longer waited for is given up: the signal of the request. */
export const compareApi = () =>
  apiRoom()
    .openapi(routes.comparison, async (c) => {
      const { a, b, clusters, primary, margins, planned, ...query } = c.req.valid("query");
      const ask = {
        ...view(query),
        ...{ a: shotsAsked(a), b: shotsAsked(b), primary: words(primary), margins: numbersByName(margins) },
        ...{ withClusters: clusters === "true", isPlannedLook: planned === "true" },
      };
      return c.json(asJson(await c.var.library.compare.comparison(ask, { signal: c.req.raw.signal })), 200);
    })
    .openapi(routes.usual, async (c) => {
      const { of, ...query } = c.req.valid("query");
      const ask = { ...view(query), of: shotsAsked(of) };
      return c.json(asJson(await c.var.library.compare.usual(ask, { signal: c.req.raw.signal })), 200);
    })
    .openapi(routes.board, async (c) => {
      const { of, ...query } = c.req.valid("query");
      const ask = { ...query, of: shotsAsked(of) };
      return c.json(asJson(await c.var.library.compare.board(ask, { signal: c.req.raw.signal })), 200);
    })
    .openapi(routes.outcome, async (c) => {
      const { of, measures, ...query } = c.req.valid("query");
      const ask = { ...query, of: shotsAsked(of), measures: words(measures) };
      return c.json(asJson(await c.var.library.compare.outcome(ask, { signal: c.req.raw.signal })), 200);
    })
    .openapi(routes.study, async (c) => {
      const { a, b, shotNumber, ...query } = c.req.valid("query");
      const ask = { ...view(query), a: shotsAsked(a), b: shotsAsked(b), withShotNumber: shotNumber === "true" };
      return c.json(asJson(await c.var.library.compare.study(ask, { signal: c.req.raw.signal })), 200);
    });
