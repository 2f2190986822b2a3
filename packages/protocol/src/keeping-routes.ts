import { createRoute, z } from "@hono/zod-openapi";
import { answered, body, created, faults, finding, form, id, idParams, limitText } from "./route-parts.ts";
import { historyEntry } from "./shot-routes.ts";

const about = z
  .object({
    software: z.string(),
    version: z.string(),
    isDemo: z.boolean(),
    folder: z.string().describe("Where the library lies."),
    engine: z.enum(["sqlite", "postgres"]),
    day: z.string().describe("Today where the library stands."),
  })
  .openapi("About");

const broughtIn = z
  .object({
    fileName: z.string(),
    recordingSha256: z.string(),
    shots: z.array(
      z.object({
        shotId: id.optional(),
        isDuplicate: z.boolean(),
        stretch: z.object({ first: z.number(), end: z.number() }),
        impactS: z.number().optional(),
        playerId: id.optional(),
        addedPlayerCode: z.string().optional(),
        sessionId: id.optional(),
        isBroughtBack: z.literal(true).optional().describe("It had been taken out, and is here again as it was."),
        gotFacts: z.literal(true).optional().describe("It was here without facts, which it has now."),
      }),
    ),
    mappingName: z.string().optional(),
    findings: z.array(finding),
  })
  .openapi("BroughtIn");
const mapping = z.object({ name: z.string(), mapping: z.record(z.string(), z.unknown()) }).openapi("NamedMapping");

const mechanics = z.record(z.string(), z.unknown());
const settings = z
  .object({
    mechanics: mechanics.describe("Those in force."),
    defaults: mechanics,
    backupFolder: z.string(),
    isBackupFolderDefault: z.boolean(),
  })
  .openapi("Settings");
const settingsPart = z.strictObject({
  mechanics: mechanics.optional().describe("Only those to be changed; null sets one back."),
  backupFolder: z.string().max(1000).nullable().optional(),
});

const job = z
  .object({
    id,
    kind: z.enum(["backup", "restore", "verify", "recompute"]),
    state: z.enum(["running", "done", "failed", "cancelled"]),
    done: z.number(),
    total: z.number(),
    sentence: z.string().describe("How far it is, or what came of it."),
    remedy: z.string().optional(),
    outcome: z.unknown().optional(),
  })
  .openapi("Job");

export const keepingRoutes = {
  about: createRoute({
    method: "get",
    path: "/api/about",
    tags: ["Library"],
    summary: "What this is and where it lies",
    responses: { 200: answered(about), ...faults },
  }),
  bringIn: createRoute({
    method: "post",
    path: "/api/recordings",
    tags: ["Bring in"],
    summary: "Bring a recording in; it is on the disk when this answers",
    request: {
      body: form(
        z.object({
          recording: z.any().openapi({ type: "string", format: "binary" }),
          sidecar: z.string().max(1_000_000).optional().describe("Text of its sidecar, where it has one."),
          ask: z
            .string()
            .max(1_000_000)
            .optional()
            .describe(
              'JSON: {"sessionId"?, "playerId"?, "isSessionOfDay"?, "day"?, "mappingName"?, "mapping"?, "facts"? (as a sidecar), "isCutOffTaken"?, "isDryRun"?}',
            ),
        }),
      ),
    },
    responses: { 201: created(broughtIn), ...faults },
  }),
  listMappings: createRoute({
    method: "get",
    path: "/api/mappings",
    tags: ["Bring in"],
    summary: "Named column mappings",
    responses: { 200: answered(z.array(mapping)), ...faults },
  }),
  keepMapping: createRoute({
    method: "put",
    path: "/api/mappings/{name}",
    tags: ["Bring in"],
    summary: "Keep a column mapping under a name",
    request: { params: z.object({ name: z.string().min(1).max(100) }), body: body(z.record(z.string(), z.unknown())) },
    responses: { 200: answered(mapping), ...faults },
  }),
  removeMapping: createRoute({
    method: "delete",
    path: "/api/mappings/{name}",
    tags: ["Bring in"],
    summary: "Remove a named mapping",
    request: { params: z.object({ name: z.string().min(1).max(100) }) },
    responses: { 200: answered(z.object({ name: z.string() })), ...faults },
  }),
  readSettings: createRoute({
    method: "get",
    path: "/api/settings",
    tags: ["Settings"],
    summary: "Settings in force and their defaults",
    responses: { 200: answered(settings), ...faults },
  }),
  changeSettings: createRoute({
    method: "patch",
    path: "/api/settings",
    tags: ["Settings"],
    summary: "Change settings; results computed with others are out of date until recomputed",
    request: { body: body(settingsPart) },
    responses: { 200: answered(settings), ...faults },
  }),
  settingsReach: createRoute({
    method: "get",
    path: "/api/settings/reach",
    tags: ["Settings"],
    summary: "The sessions whose results a changed setting would make out of date",
    responses: {
      200: answered(
        z.object({
          shots: z.number(),
          sessions: z.array(z.object({ id, day: z.string(), playerCode: z.string(), shots: z.number() })),
        }),
      ),
      ...faults,
    },
  }),
  changePlace: createRoute({
    method: "put",
    path: "/api/place",
    tags: ["Settings"],
    summary: "Open the library of another folder, and remember it",
    request: { body: body(z.strictObject({ folder: z.string().min(1).max(1000) })) },
    responses: { 200: answered(about), ...faults },
  }),
  listBackups: createRoute({
    method: "get",
    path: "/api/backups",
    tags: ["Library"],
    summary: "Backups in the backup folder, newest first",
    responses: {
      200: answered(z.array(z.object({ file: z.string(), byteCount: z.number(), madeMs: z.number() }))),
      ...faults,
    },
  }),
  listJobs: createRoute({
    method: "get",
    path: "/api/jobs",
    tags: ["Library"],
    summary: "Long work, running and ended",
    responses: { 200: answered(z.array(job)), ...faults },
  }),
  startJob: createRoute({
    method: "post",
    path: "/api/jobs",
    tags: ["Library"],
    summary: "Start long work; its progress comes as changes",
    request: {
      body: body(
        z.discriminatedUnion("kind", [
          z.strictObject({
            kind: z.literal("backup"),
            file: z.string().max(1000).optional().describe("Left out: in the backup folder."),
          }),
          z.strictObject({
            kind: z.literal("restore"),
            file: z.string().min(1).max(1000),
            folder: z.string().min(1).max(1000).describe("A new folder: nothing that is there is touched."),
          }),
          z.strictObject({ kind: z.literal("verify"), mend: z.boolean().optional() }),
          z.strictObject({
            kind: z.literal("recompute"),
            scope: z.enum(["stale", "all"]).optional(),
            playerId: id.optional(),
            sessionId: id.optional(),
          }),
        ]),
      ),
    },
    responses: { 201: created(job), ...faults },
  }),
  readJob: createRoute({
    method: "get",
    path: "/api/jobs/{id}",
    tags: ["Library"],
    summary: "How far it is",
    request: { params: idParams },
    responses: { 200: answered(job), ...faults },
  }),
  cancelJob: createRoute({
    method: "delete",
    path: "/api/jobs/{id}",
    tags: ["Library"],
    summary: "Cancel long work",
    request: { params: idParams },
    responses: { 200: answered(job), ...faults },
  }),
  listHistory: createRoute({
    method: "get",
    path: "/api/history",
    tags: ["Library"],
    summary: "What was done, the latest first",
    request: {
      query: z.object({
        sessionId: id.optional(),
        playerId: id.optional(),
        shotId: id.optional(),
        limit: limitText.optional(),
      }),
    },
    responses: { 200: answered(z.array(historyEntry)), ...faults },
  }),
  undoHistory: createRoute({
    method: "post",
    path: "/api/history/{id}/undo",
    tags: ["Library"],
    summary: "Undo a change; undoing the answer's id brings it back",
    request: { params: idParams },
    responses: { 200: answered(z.object({ id })), ...faults },
  }),
} as const;
