import { createRoute, z } from "@hono/zod-openapi";
import { answered, body, bytes, dayText, faults, finding, id, idParams, limitText, rangeText } from "./route-parts.ts";

const label = z.enum(["kept", "mishit", "set-aside"]);
const eventName = z.enum(["address", "start", "top", "delivery", "impact", "finish"]);
const contact = z.enum(["clean", "fat", "thin", "shank", "top", "miss"]);
const axes = z.enum(["turf", "level"]);

const shotLineParts = {
  id,
  playerId: id.optional(),
  playerCode: z.string().optional(),
  sessionId: id.optional(),
  recordingSha256: z.string(),
  stretch: z.object({ first: z.number(), end: z.number() }).describe("Samples [first, end) of the recording."),
  ordinal: z.number().describe("From 1 in its session; 0 without one."),
  day: z.string(),
  fileName: z.string(),
  label,
  intent: z.string().optional(),
  lieName: z.string().optional(),
  pitchDeg: z.number().optional(),
  rollDeg: z.number().optional(),
  club: z.string().optional(),
  contact: z.string().optional(),
  startLineDeg: z.number().optional(),
  carryM: z.number().optional(),
  worstSeverity: z.enum(["note", "caution", "stop"]).optional(),
  createdMs: z.number(),
};
const shotLine = z.object(shotLineParts).openapi("ShotLine");
const sidecar = z.record(z.string(), z.unknown()).openapi("ShotSidecar", {
  description: "The facts of a shot, as in its sidecar file: docs/formats/shot-sidecar.schema.json.",
});
const mapping = z.record(z.string(), z.unknown()).describe("How the columns of its text were read.");
const shot = z
  .object({ ...shotLineParts, facts: sidecar.optional(), mapping: mapping.optional(), findings: z.array(finding) })
  .openapi("Shot");
const result = z
  .strictObject({
    strikeMm: z.tuple([z.number(), z.number()]).optional().describe("From the face's centre: toward the toe, up."),
    contact: contact.optional(),
    startLineDeg: z.number().min(-90).max(90).optional(),
    carryM: z.number().min(0).max(400).optional(),
    launchDeg: z.number().min(-90).max(90).optional(),
    isGood: z.boolean().optional(),
  })
  .openapi("ShotResult");
export const historyEntry = z
  .object({
    id,
    madeMs: z.number(),
    by: z.string(),
    deed: z.string().describe("In words: corrected the facts of the shot."),
    shotId: z.string().optional(),
    sessionId: z.string().optional(),
    playerId: z.string().optional(),
    changes: z.array(z.record(z.string(), z.unknown())),
    undoesId: z.string().optional(),
    undoneById: z.string().optional(),
  })
  .openapi("HistoryEntry");
const maybe = z.number().nullable().describe("null where it could not be measured");
const measuresOfShot = z
  .object({
    shotId: id,
    status: z.string(),
    version: z.string(),
    madeMs: z.number(),
    isCurrent: z.boolean(),
    values: z.record(z.string(), z.object({ value: maybe, sigma: maybe, text: z.string().optional() })),
  })
  .openapi("ShotMeasures");

const shotQuery = z.object({
  playerId: id.optional(),
  sessionId: id.optional(),
  intent: z.string().optional(),
  lieName: z.string().optional(),
  club: z.string().optional(),
  label: label.optional(),
  contact: z.string().optional(),
  fromDay: dayText.optional(),
  toDay: dayText.optional(),
  pitchDeg: rangeText.optional(),
  rollDeg: rangeText.optional(),
  carryM: rangeText.optional(),
  startLineDeg: rangeText.optional(),
  findingCode: z.string().optional(),
  leastSeverity: z.enum(["note", "caution", "stop"]).optional(),
  recordingSha256: z.string().optional(),
  fileName: z.string().optional(),
  show: z.enum(["present", "hidden"]).optional(),
  order: z.enum(["newest", "session"]).optional(),
  limit: limitText.optional(),
  after: z.string().optional(),
});

const changed = { 200: answered(shot), ...faults } as const;

export const shotRoutes = {
  listShots: createRoute({
    method: "get",
    path: "/api/shots",
    tags: ["Shots"],
    summary: "Shots by any fact, a page at a time",
    request: { query: shotQuery },
    responses: {
      200: answered(z.object({ rows: z.array(shotLine), total: z.number(), next: z.string().optional() })),
      ...faults,
    },
  }),
  listWords: createRoute({
    method: "get",
    path: "/api/words",
    tags: ["Shots"],
    summary: "Every intent, lie, club, contact and finding that occurs, with how many shots have it",
    request: { query: z.object({ playerId: id.optional() }) },
    responses: {
      200: answered(
        z
          .object({
            intents: z.array(z.object({ word: z.string(), shots: z.number() })),
            lies: z.array(z.object({ word: z.string(), shots: z.number() })),
            clubs: z.array(z.object({ word: z.string(), shots: z.number() })),
            contacts: z.array(z.object({ word: z.string(), shots: z.number() })),
            findings: z.array(z.object({ word: z.string(), shots: z.number() })),
          })
          .openapi("Words"),
      ),
      ...faults,
    },
  }),
  readShot: createRoute({
    method: "get",
    path: "/api/shots/{id}",
    tags: ["Shots"],
    summary: "One shot with facts and findings",
    request: { params: idParams },
    responses: changed,
  }),
  shotRecording: createRoute({
    method: "get",
    path: "/api/shots/{id}/recording",
    tags: ["Shots"],
    summary: "The whole recording the shot lies in",
    request: { params: idParams },
    responses: { 200: bytes, ...faults },
  }),
  shotSidecar: createRoute({
    method: "get",
    path: "/api/shots/{id}/sidecar",
    tags: ["Shots"],
    summary: "The facts of the shot as its sidecar; times count from the first sample of its stretch",
    request: { params: idParams },
    responses: { 200: answered(sidecar), ...faults },
  }),
  shotHistory: createRoute({
    method: "get",
    path: "/api/shots/{id}/history",
    tags: ["Shots"],
    summary: "What was done to a shot, the latest first",
    request: { params: idParams },
    responses: { 200: answered(z.array(historyEntry)), ...faults },
  }),
  shotMeasures: createRoute({
    method: "get",
    path: "/api/shots/{id}/measures",
    tags: ["Results"],
    summary: "The measures as last computed; null where not yet",
    request: { params: idParams },
    responses: { 200: answered(measuresOfShot.nullable()), ...faults },
  }),
  sayFacts: createRoute({
    method: "put",
    path: "/api/shots/{id}/facts",
    tags: ["Shots"],
    summary: "Say or correct the facts, all of them at once",
    request: { params: idParams, body: body(sidecar) },
    responses: changed,
  }),
  labelShot: createRoute({
    method: "put",
    path: "/api/shots/{id}/label",
    tags: ["Shots"],
    summary: "Keep, mishit or set aside",
    request: { params: idParams, body: body(z.strictObject({ label })) },
    responses: changed,
  }),
  giveResult: createRoute({
    method: "put",
    path: "/api/shots/{id}/result",
    tags: ["Shots"],
    summary: "What became of the ball; null takes it back",
    request: { params: idParams, body: body(z.strictObject({ result: result.nullable() })) },
    responses: changed,
  }),
  noteShot: createRoute({
    method: "put",
    path: "/api/shots/{id}/note",
    tags: ["Shots"],
    summary: "Change the note; null takes it back",
    request: { params: idParams, body: body(z.strictObject({ note: z.string().max(4000).nullable() })) },
    responses: changed,
  }),
  markShot: createRoute({
    method: "post",
    path: "/api/shots/{id}/marks",
    tags: ["Shots"],
    summary: "Mark events; they win over estimates and earlier marks",
    request: {
      params: idParams,
      body: body(
        z.strictObject({
          marks: z
            .array(z.strictObject({ event: eventName, timeS: z.number(), sdMs: z.number().positive() }))
            .min(1)
            .max(6),
        }),
      ),
    },
    responses: changed,
  }),
  unmarkShot: createRoute({
    method: "delete",
    path: "/api/shots/{id}/marks/{event}",
    tags: ["Shots"],
    summary: "Take a mark back",
    request: { params: idParams.extend({ event: eventName }) },
    responses: changed,
  }),
  moveShot: createRoute({
    method: "put",
    path: "/api/shots/{id}/session",
    tags: ["Shots"],
    summary: "Move a shot into another session",
    request: { params: idParams, body: body(z.strictObject({ sessionId: id })) },
    responses: changed,
  }),
  undoShot: createRoute({
    method: "post",
    path: "/api/shots/{id}/undo",
    tags: ["Shots"],
    summary: "Undo the latest change of this shot that still stands",
    request: { params: idParams },
    responses: { 200: answered(z.object({ undone: historyEntry.nullable() })), ...faults },
  }),
  listPoints: createRoute({
    method: "get",
    path: "/api/measures",
    tags: ["Results"],
    summary: "One measure over all shots asked for, oldest first",
    request: {
      query: z.object({
        measure: z.string(),
        axes: axes.optional(),
        playerId: id.optional(),
        sessionId: id.optional(),
        intent: z.string().optional(),
        lieName: z.string().optional(),
        club: z.string().optional(),
      }),
    },
    responses: {
      200: answered(
        z.array(
          z
            .object({
              shotId: id,
              sessionId: id.optional(),
              day: z.string(),
              ordinal: z.number(),
              label,
              intent: z.string().optional(),
              lieName: z.string().optional(),
              club: z.string().optional(),
              value: maybe,
              sigma: maybe,
            })
            .openapi("MeasurePoint"),
        ),
      ),
      ...faults,
    },
  }),
} as const;
