import { type Hook, OpenAPIHono } from "@hono/zod-openapi";
import type { Library } from "@underfoot/library";
import type { KeptOpen } from "../library-seat.ts";
import { type Issue, plainIssue } from "../refusals/plain-issue.ts";
import { refusal } from "../refusals/refusal.ts";

/** What every handler finds in its context: the library as it was when the request came. */
export interface ApiEnv {
  readonly Variables: { readonly library: Library; readonly keptOpen: KeptOpen };
}

/** A refused request becomes one sentence that names the field. */
const refused: Hook<unknown, ApiEnv, string, unknown> = (result, c) =>
  result.success
    ? undefined
    : refusal(c, plainIssue(result.target, result.error.issues as unknown as readonly Issue[]));

/** The addresses of one noun, to be chained. */
export const apiRoom = (): OpenAPIHono<ApiEnv> => new OpenAPIHono<ApiEnv>({ defaultHook: refused });
