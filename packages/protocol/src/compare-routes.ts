import { createRoute, z } from "@hono/zod-openapi";
import type {
  AsJson,
  Board,
  Comparison,
  Outcome,
  ShotAgainstShot,
  ShotAgainstUsual,
  Study,
  Usual,
} from "@underfoot/compare";
import { answered, faults, id } from "./route-parts.ts";

/** The shape that is published has the first level only; the page knows the whole by the types of the room that makes it. */
const typed = <T>(shape: z.ZodType): z.ZodType<AsJson<T>> => shape as unknown as z.ZodType<AsJson<T>>;

const shots = (example: string, description: string) =>
  z
    .string()
    .max(2000)
    .openapi({ example, description: `${description} Facts with = between ; and shots as shot=ID.` });
const list = (example: string, description: string) =>
  z
    .string()
    .max(4000)
    .optional()
    .openapi({ example, description: `${description} Commas between them.` });

const axes = z.enum(["turf", "level"]).optional().describe("turf where left out.");
const measures = list("both.target.peak,lead.share.at.impact", "Measures; left out: every measure.");
const curves = list("both.target,lead.share", "Curves; left out: none.");
const registration = z
  .enum(["impact", "events"])
  .optional()
  .describe("How curves are brought to one time scale; impact where left out.");
const seed = z.coerce.number().int().min(0).max(Number.MAX_SAFE_INTEGER).optional();
const times = z.coerce.number().int().min(1).max(1000).optional().describe("How often these shots were looked at.");
const purpose = z.enum(["lesson", "study"]).optional().describe("lesson where left out.");
const flag = z.enum(["true", "false"]).optional();

const parts = z.array(z.looseObject({}));
const rows = parts.describe("One object a measure: its column, title and unit, values and what may be said of them.");
const curveRows = parts.describe("One object a curve; a value for each point of the grid, null where there is none.");
const looks = z.looseObject({}).describe("How many measures, pairs of conditions and times were looked at.");
const level = z.number().describe("Of intervals, of one: 0.95.");
const grid = z
  .looseObject({ kind: z.string(), firstMs: z.number(), stepMs: z.number() })
  .describe("Times of the curves' points, ms from impact.");
const side = z.looseObject({ name: z.string(), countShots: z.number(), shotIds: z.array(z.string()) });

const conditions = z.looseObject({
  kind: z.literal("conditions"),
  ...{ a: side, b: side, axes: z.string() },
  design: z.looseObject({ kind: z.string() }).describe("What may have been labelled otherwise."),
  measures: rows,
  curves: z.looseObject({}).optional().describe("Whole curves, where they were asked for."),
  notices: parts.describe("What must be said beside it, by code."),
  ...{ looks, levelOfOne: level, seed: z.number() },
  summary: z.looseObject({ countMeasures: z.number(), countAlone: z.number(), countBeyond: z.number() }),
});
const shotUsual = z.looseObject({
  kind: z.literal("shot-usual"),
  ...{ shotId: z.string(), measures: rows, curves: curveRows },
  usual: z.looseObject({}).describe("The band of the other shots, as of /api/usual."),
  overall: z.looseObject({}).describe("How many measures are outside, and how many chance gives."),
});
const shotPair = z.looseObject({
  kind: z.literal("shot-pair"),
  ...{ a: z.string(), b: z.string(), measures: rows, curves: curveRows, grid },
  verdict: z.literal("none").describe("Two single shots show no difference."),
});
const comparisonShape = z
  .union([conditions, shotUsual, shotPair])
  .openapi("Comparison", { description: "B minus A. By kind: two conditions, a shot against its usual, two shots." });

const usualShape = z
  .looseObject({
    ...{ kind: z.literal("usual"), name: z.string(), shotIds: z.array(z.string()) },
    leftOut: z.looseObject({}).describe("How many shots do not count, by label."),
    ...{ countSessions: z.number(), measures: rows, curves: curveRows, grid, looks, levelOfOne: level },
  })
  .openapi("Usual", { description: "Where the next shot of a condition will fall." });
const boardShape = z
  .looseObject({
    ...{ kind: z.literal("board"), column: z.string(), title: z.string(), unit: z.string() },
    ...{ intents: z.array(z.string()), lies: parts, clubs: z.array(z.string()) },
    cells: parts.describe("One object an intent and lie: state, tally, values, and the difference from the flat."),
    ...{ grid, looks, levelOfOne: level, seed: z.number() },
  })
  .openapi("Board", { description: "Intents by lies, one measure." });
const outcomeShape = z
  .looseObject({
    ...{ kind: z.literal("outcome"), outcome: z.string(), unit: z.string(), name: z.string() },
    ...{ n: z.number(), countUnknown: z.number(), conditions: parts, measures: rows },
    ...{ looks, levelOfOne: level, seed: z.number() },
  })
  .openapi("Outcome", { description: "How measures go with what became of the ball. Never a cause." });
const studyShape = z
  .looseObject({
    ...{ kind: z.literal("study"), a: z.string(), b: z.string(), players: z.array(z.string()), cells: parts },
    ...{ isBetweenLies: z.boolean(), measures: rows, curves: curveRows, grid },
    ...{ looks, levelOfOne: level, seed: z.number() },
  })
  .openapi("Study", { description: "Whether something holds across players who agreed to studies." });

const sides = {
  a: shots("intent=stock;lieName=flat", "The reference."),
  b: shots("intent=low;lieName=flat", "What is held against it."),
};
const of = shots("intent=low;lieName=flat;playerId=ID", "Which shots.");

/** Null stands for a number that is not known. Every answer carries its seed: the same question gives the same answer. */
export const compareRoutes = {
  comparison: createRoute({
    method: "get",
    path: "/api/comparison",
    tags: ["Comparisons"],
    summary: "What differs between two conditions, a shot and its usual, or two shots",
    request: {
      query: z.object({
        ...sides,
        ...{ axes, measures, curves, registration, seed, times, purpose },
        clusters: flag.describe("true: a second view of the curves that finds long, weak differences."),
        primary: list("lead.share.at.impact", "Measures named before the session, three at most."),
        margins: list("lead.share.at.impact=5", "Smallest difference that would matter, set before, by measure."),
        planned: flag.describe("true: these looks were planned at equal steps."),
      }),
    },
    responses: {
      200: answered(typed<Comparison | ShotAgainstUsual | ShotAgainstShot>(comparisonShape)),
      ...faults,
    },
  }),
  usual: createRoute({
    method: "get",
    path: "/api/usual",
    tags: ["Comparisons"],
    summary: "The usual band of a condition, by measure and by curve",
    request: {
      query: z.object({
        of,
        without: id.optional().describe("A shot that is never one of the band's."),
        ...{ axes, measures, curves, registration, times },
      }),
    },
    responses: { 200: answered(typed<Usual>(usualShape)), ...faults },
  }),
  board: createRoute({
    method: "get",
    path: "/api/board",
    tags: ["Comparisons"],
    summary: "Intents by lies: each cell and its difference from the same intent on the flat",
    request: {
      query: z.object({
        of: shots("playerId=ID", "Which shots, of one player."),
        measure: z.string().max(200).openapi({ example: "lead.share.at.impact" }),
        curve: z.string().max(200).optional(),
        ...{ axes, registration, seed, times, purpose },
      }),
    },
    responses: { 200: answered(typed<Board>(boardShape)), ...faults },
  }),
  outcome: createRoute({
    method: "get",
    path: "/api/outcome",
    tags: ["Comparisons"],
    summary: "Results of shots against measures, within conditions of one player",
    request: {
      query: z.object({
        of,
        outcome: z.enum(["strikeToe", "strikeUp", "startLine", "carry", "mishit"]),
        ...{ axes, measures, seed, times },
      }),
    },
    responses: { 200: answered(typed<Outcome>(outcomeShape)), ...faults },
  }),
  study: createRoute({
    method: "get",
    path: "/api/study",
    tags: ["Comparisons"],
    summary: "Whether a difference holds across players who agreed to studies",
    request: {
      query: z.object({
        ...sides,
        ...{ axes, measures, curves, registration, seed, times },
        shotNumber: flag.describe("true: the number of the shot is kept in the model."),
      }),
    },
    responses: { 200: answered(typed<Study>(studyShape)), ...faults },
  }),
} as const;
