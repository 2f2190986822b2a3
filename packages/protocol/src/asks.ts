import { z } from "@hono/zod-openapi";
import { dayText, id } from "./route-parts.ts";

/** What is said of a recording that is brought in: the part "ask" of the form, as JSON. */
export const bringInAsk = z.strictObject({
  sessionId: id.optional(),
  playerId: id.optional(),
  /** Into the session of its player and day, opened where there is none. */
  isSessionOfDay: z.boolean().optional(),
  day: dayText.optional(),
  mappingName: z.string().max(100).optional(),
  /** As in a mapping's file. */
  mapping: z.record(z.string(), z.unknown()).optional(),
  /** As in a sidecar. */
  facts: z.record(z.string(), z.unknown()).optional(),
  isCutOffTaken: z.boolean().optional(),
  isDryRun: z.boolean().optional(),
});
export type BringInAsk = z.input<typeof bringInAsk>;

/** What is said of a recording that a plate check is made from: the part "ask" of the form, as JSON. */
export const checkAsk = z.strictObject({
  kind: z.enum(["zero", "known-mass", "quiet-lean", "clocks", "outlines"]),
  massKg: z.number().positive().max(1000).optional(),
  /** The only plate that the mass stood on; left out: whichever. */
  plate: z.number().int().min(1).max(4).optional(),
  /** Where on the plate the mass stood; left out: the nearest of the five. */
  place: z.enum(["centre", "near corner 1", "near corner 2", "near corner 3", "near corner 4"]).optional(),
  /** The foot that was traced, where one plate is under both. */
  foot: z.enum(["lead", "trail"]).optional(),
  /** Of the session's plan. */
  lieName: z.string().max(100).optional(),
  /** Direction of the target in the laboratory, any length. */
  target: z.tuple([z.number(), z.number(), z.number()]).optional(),
  mappingName: z.string().max(100).optional(),
});
export type CheckAsk = z.input<typeof checkAsk>;
