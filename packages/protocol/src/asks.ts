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
  plate: z.number().int().min(1).max(4).optional(),
  /** Where on the plate the mass stood. */
  place: z.string().max(100).optional(),
  lieName: z.string().max(100).optional(),
  mappingName: z.string().max(100).optional(),
});
export type CheckAsk = z.input<typeof checkAsk>;
