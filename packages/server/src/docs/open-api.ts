import { OpenAPIHono } from "@hono/zod-openapi";
import { VERSION } from "@underfoot/domain";
import { routes } from "@underfoot/protocol";
import type { Schema } from "./schema.ts";

/** One thing to be asked at one path. */
export interface Operation {
  readonly tags?: readonly string[];
  readonly summary?: string;
  readonly description?: string;
  readonly parameters?: readonly {
    readonly name: string;
    readonly in: string;
    readonly required?: boolean;
    readonly schema?: Schema;
    readonly description?: string;
  }[];
  readonly requestBody?: { readonly content: Readonly<Record<string, { readonly schema?: Schema }>> };
  readonly responses: Readonly<
    Record<
      string,
      { readonly description: string; readonly content?: Readonly<Record<string, { readonly schema?: Schema }>> }
    >
  >;
}

/** The published description, as far as it is used here. */
export interface ApiDocument {
  readonly openapi: string;
  readonly info: { readonly title: string; readonly version: string; readonly description: string };
  readonly paths: Readonly<Record<string, Readonly<Record<string, Operation>>>>;
  readonly components: { readonly schemas: Readonly<Record<string, Schema>> };
}

const DESCRIPTION = [
  "What a golfer's two feet did to the plates under them, shot by shot: players, sessions, shots, measures.",
  "The server answers on this machine only, at the address that `underfoot serve` says. It refuses another Host and another page's Origin.",
  "Bodies are JSON in UTF-8 of at most 1 MB, recordings come as multipart/form-data of at most 512 MB.",
  "A refusal is 4xx, or 503 where the disk is full or busy, with one sentence and what to do; nothing is stored then.",
  "Names end in their unit (timeS, massKg, pitchDeg). What could not be measured is null.",
].join("\n\n");

const CHANGES: Operation = {
  tags: ["Changes"],
  summary: "A WebSocket that tells each change after it is on the disk",
  description:
    'One JSON object a message: {"kind", "id", "deed", "sessionId"?}. kind is player, club, layout, session, check, shot, result, setting, job, place, or elsewhere where another program wrote: then ask anew for all that is shown.',
  responses: { "101": { description: "Changes follow" } },
};

/** Every address of the protocol as an OpenAPI 3.1 document. */
export function apiDocument(): ApiDocument {
  const app = new OpenAPIHono();
  for (const route of Object.values(routes)) app.openAPIRegistry.registerPath(route);
  const made = app.getOpenAPI31Document({
    openapi: "3.1.0",
    info: {
      title: "Underfoot",
      version: VERSION,
      description: DESCRIPTION,
      license: { name: "Apache-2.0", url: "https://www.apache.org/licenses/LICENSE-2.0" },
    },
    servers: [{ url: "http://127.0.0.1:5178" }],
  }) as unknown as ApiDocument;
  return { ...made, paths: { ...made.paths, "/api/changes": { get: CHANGES } } };
}

/** The document as its file has it. */
export const apiDocumentText = (): string => `${JSON.stringify(apiDocument(), null, 1)}\n`;
