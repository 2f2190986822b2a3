import { createRoute, z } from "@hono/zod-openapi";
import { answered, body, created, dayText, faults, id, idParams, nullable, text } from "./route-parts.ts";

const point = z.object({ x: z.number(), y: z.number(), z: z.number() });

const playerParts = {
  code: z.string().trim().min(1).max(40).describe("A short pseudonym such as P01: what leaves this machine."),
  name: text(200),
  handed: z.enum(["right", "left"]),
  pronoun: z.enum(["she", "he", "they"]),
  massKg: z.number().min(15).max(250).optional(),
  consent: z
    .enum(["study", "report", "none"])
    .describe("study: may be counted and exported; report: shown to player and coach; none: nothing was agreed."),
  consentDay: dayText.optional(),
  notes: text(4000),
  shoes: text(200),
};
const playerDetails = z.strictObject(playerParts).openapi("PlayerDetails");
const player = z.object({ id, ...playerParts, createdMs: z.number() }).openapi("Player");
const forgotten = z
  .object({
    sessions: z.number(),
    shots: z.number(),
    results: z.number(),
    findings: z.number(),
    footOutlines: z.number(),
    plateChecks: z.number(),
    historyEntries: z.number(),
    settings: z.array(z.string()),
    recordings: z.number(),
    recordingsShared: z.number(),
    backups: z.array(z.string()).describe("Daily backups that held the person and were removed."),
    backupsElsewhere: z.array(z.string()).describe("Backups made by hand that may still hold the person."),
    isScrubbed: z.boolean(),
    elsewhere: z.string(),
  })
  .openapi("Forgotten");

const footOutline = z
  .object({
    foot: z.enum(["lead", "trail"]),
    frame: z.enum(["lab", "plate"]),
    outline: z.array(point).min(3).max(2000).describe("m"),
    heel: point.optional(),
    toe: point.optional(),
  })
  .openapi("FootOutline");
const playerOutline = z
  .object({ id, playerId: id, shoes: z.string().optional(), outline: footOutline, createdMs: z.number() })
  .openapi("PlayerOutline");

const clubParts = {
  name: z.string().trim().min(1).max(100),
  loftDeg: z.number().min(0).max(90).optional(),
  note: text(1000),
};
const club = z.object({ id, ...clubParts, createdMs: z.number() }).openapi("Club");

const laidPlate = z
  .object({
    plate: z.number().int().min(1).max(4),
    foot: z.enum(["lead", "trail", "both", "none"]),
    cornersM: z.array(point).length(4).optional(),
    ratedLoadN: z.number().positive().optional(),
    ratedTiltDeg: z.number().min(0).max(90).optional(),
    calibration: z
      .object({
        day: dayText,
        gainSigma: z.number().optional(),
        crosstalkSigma: z.number().optional(),
        note: text(1000),
      })
      .optional(),
    note: text(1000),
  })
  .openapi("LaidPlate");
const layoutParts = {
  name: z.string().trim().min(1).max(100),
  plates: z.array(laidPlate).min(1).max(4),
  note: text(1000),
};
const layout = z.object({ id, ...layoutParts, createdMs: z.number() }).openapi("PlateLayout");

export const peopleRoutes = {
  listPlayers: createRoute({
    method: "get",
    path: "/api/players",
    tags: ["Players"],
    summary: "All players by code",
    responses: { 200: answered(z.array(player)), ...faults },
  }),
  addPlayer: createRoute({
    method: "post",
    path: "/api/players",
    tags: ["Players"],
    summary: "Add a player",
    request: { body: body(playerDetails) },
    responses: { 201: created(player), ...faults },
  }),
  readPlayer: createRoute({
    method: "get",
    path: "/api/players/{id}",
    tags: ["Players"],
    summary: "One player",
    request: { params: idParams },
    responses: { 200: answered(player), ...faults },
  }),
  changePlayer: createRoute({
    method: "patch",
    path: "/api/players/{id}",
    tags: ["Players"],
    summary: "Change a player; null takes a field away",
    request: { params: idParams, body: body(nullable(playerParts)) },
    responses: { 200: answered(player), ...faults },
  }),
  forgetPlayer: createRoute({
    method: "delete",
    path: "/api/players/{id}",
    tags: ["Players"],
    summary: "Remove a person everywhere; it cannot be undone",
    request: {
      params: idParams,
      query: z.object({
        code: z.string().describe("The player's code once more, so that nobody is forgotten by a slip."),
      }),
    },
    responses: { 200: answered(forgotten), ...faults },
  }),
  listOutlines: createRoute({
    method: "get",
    path: "/api/players/{id}/outlines",
    tags: ["Players"],
    summary: "Traced feet, newest first",
    request: { params: idParams },
    responses: { 200: answered(z.array(playerOutline)), ...faults },
  }),
  addOutline: createRoute({
    method: "post",
    path: "/api/players/{id}/outlines",
    tags: ["Players"],
    summary: "Keep a traced foot",
    request: { params: idParams, body: body(z.strictObject({ outline: footOutline, shoes: text(200) })) },
    responses: { 201: created(playerOutline), ...faults },
  }),
  listClubs: createRoute({
    method: "get",
    path: "/api/clubs",
    tags: ["Clubs"],
    summary: "All clubs",
    responses: { 200: answered(z.array(club)), ...faults },
  }),
  addClub: createRoute({
    method: "post",
    path: "/api/clubs",
    tags: ["Clubs"],
    summary: "Add a club",
    request: { body: body(z.strictObject(clubParts)) },
    responses: { 201: created(club), ...faults },
  }),
  changeClub: createRoute({
    method: "patch",
    path: "/api/clubs/{id}",
    tags: ["Clubs"],
    summary: "Change a club",
    request: { params: idParams, body: body(nullable(clubParts)) },
    responses: { 200: answered(club), ...faults },
  }),
  removeClub: createRoute({
    method: "delete",
    path: "/api/clubs/{id}",
    tags: ["Clubs"],
    summary: "Remove a club",
    request: { params: idParams },
    responses: { 200: answered(z.object({ id })), ...faults },
  }),
  listLayouts: createRoute({
    method: "get",
    path: "/api/layouts",
    tags: ["Plates"],
    summary: "All plate layouts",
    responses: { 200: answered(z.array(layout)), ...faults },
  }),
  addLayout: createRoute({
    method: "post",
    path: "/api/layouts",
    tags: ["Plates"],
    summary: "Add a plate layout",
    request: { body: body(z.strictObject(layoutParts)) },
    responses: { 201: created(layout), ...faults },
  }),
  changeLayout: createRoute({
    method: "patch",
    path: "/api/layouts/{id}",
    tags: ["Plates"],
    summary: "Change a plate layout",
    request: { params: idParams, body: body(nullable(layoutParts)) },
    responses: { 200: answered(layout), ...faults },
  }),
  removeLayout: createRoute({
    method: "delete",
    path: "/api/layouts/{id}",
    tags: ["Plates"],
    summary: "Remove a plate layout",
    request: { params: idParams },
    responses: { 200: answered(z.object({ id })), ...faults },
  }),
} as const;
