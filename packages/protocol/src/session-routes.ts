import { createRoute, z } from "@hono/zod-openapi";
import {
  answered,
  body,
  created,
  dayText,
  faults,
  form,
  id,
  idParams,
  limitText,
  nullable,
  text,
} from "./route-parts.ts";

const plannedShot = z.object({
  intent: z.string().min(1).max(100),
  lieName: z.string().min(1).max(100),
  club: text(100),
});
const asked = z
  .array(
    z.object({
      measure: z.string().max(100),
      axes: z.enum(["turf", "level"]).optional(),
      intent: text(100),
      least: z.number().optional(),
      most: z.number().optional(),
    }),
  )
  .max(20);
const plan = z
  .object({
    order: z.enum(["blocked", "balanced", "split", "as-given"]),
    seed: z.number().int(),
    lies: z
      .array(
        z.object({
          name: z.string().min(1).max(100),
          pitchDeg: z.number().min(-45).max(45),
          rollDeg: z.number().min(-45).max(45),
          source: z.enum(["inclinometer", "stance", "assumed"]),
          sdDeg: z.number().min(0).max(10),
        }),
      )
      .max(20),
    conditions: z.array(plannedShot.extend({ count: z.number().int().min(1).max(500) })).max(100),
    asked,
    drawn: z.array(plannedShot).max(2000).describe("In the order to be hit."),
  })
  .openapi("SessionPlan");

const sessionParts = {
  playerId: id,
  layoutId: id.optional(),
  day: dayText,
  place: text(200),
  plan: plan.optional(),
  note: text(4000),
};
const session = z.object({ id, ...sessionParts, createdMs: z.number() }).openapi("Session");
const sessionLine = z
  .object({
    id,
    playerId: id,
    playerCode: z.string(),
    day: z.string(),
    place: z.string().optional(),
    layoutId: id.optional(),
    asked: asked.optional(),
    shotCount: z.number(),
  })
  .openapi("SessionLine");

const checkKind = z.enum(["zero", "known-mass", "quiet-lean", "clocks", "outlines"]);
const plateCheck = z
  .object({
    id,
    sessionId: id,
    kind: checkKind,
    allowed: z.number().optional(),
    found: z.number().optional(),
    unit: z.string(),
    isPassed: z.boolean(),
    wentOn: z.boolean().describe("It failed, and somebody went on: every shot carries it."),
    note: z.string().optional(),
    recordingSha256: z.string().optional(),
    detail: z.unknown().optional(),
    createdMs: z.number(),
  })
  .openapi("PlateCheck");

export const sessionRoutes = {
  listSessions: createRoute({
    method: "get",
    path: "/api/sessions",
    tags: ["Sessions"],
    summary: "Sessions, latest first, a page at a time",
    request: {
      query: z.object({
        playerId: id.optional(),
        fromDay: dayText.optional(),
        toDay: dayText.optional(),
        limit: limitText.optional(),
        after: z.string().optional(),
      }),
    },
    responses: {
      200: answered(z.object({ rows: z.array(sessionLine), total: z.number(), next: z.string().optional() })),
      ...faults,
    },
  }),
  addSession: createRoute({
    method: "post",
    path: "/api/sessions",
    tags: ["Sessions"],
    summary: "Open a session",
    request: { body: body(z.strictObject(sessionParts)) },
    responses: { 201: created(session), ...faults },
  }),
  readSession: createRoute({
    method: "get",
    path: "/api/sessions/{id}",
    tags: ["Sessions"],
    summary: "One session with its plan",
    request: { params: idParams },
    responses: { 200: answered(session), ...faults },
  }),
  changeSession: createRoute({
    method: "patch",
    path: "/api/sessions/{id}",
    tags: ["Sessions"],
    summary: "Change a session or its plan",
    request: { params: idParams, body: body(nullable(sessionParts)) },
    responses: { 200: answered(session), ...faults },
  }),
  removeSession: createRoute({
    method: "delete",
    path: "/api/sessions/{id}",
    tags: ["Sessions"],
    summary: "Remove an empty session",
    request: { params: idParams },
    responses: { 200: answered(z.object({ id })), ...faults },
  }),
  listChecks: createRoute({
    method: "get",
    path: "/api/sessions/{id}/checks",
    tags: ["Plates"],
    summary: "The plate checks of a session, in the order made",
    request: { params: idParams },
    responses: { 200: answered(z.array(plateCheck)), ...faults },
  }),
  addCheck: createRoute({
    method: "post",
    path: "/api/sessions/{id}/checks",
    tags: ["Plates"],
    summary: "Make a plate check from a recording",
    request: {
      params: idParams,
      body: form(
        z.object({
          recording: z.any().openapi({ type: "string", format: "binary" }),
          sidecar: z.string().max(1_000_000).optional().describe("Text of the recording's sidecar, where it has one."),
          ask: z
            .string()
            .max(100_000)
            .describe('JSON: {"kind", "massKg"?, "plate"?, "place"?, "foot"?, "lieName"?, "target"?, "mappingName"?}'),
        }),
      ),
    },
    responses: { 201: created(plateCheck), ...faults },
  }),
  goOnAnyway: createRoute({
    method: "post",
    path: "/api/checks/{id}/go-on",
    tags: ["Plates"],
    summary: "Go on although a check failed; the note travels with every shot",
    request: { params: idParams, body: body(z.strictObject({ note: z.string().max(1000) })) },
    responses: { 200: answered(plateCheck), ...faults },
  }),
} as const;
