import { z } from "@hono/zod-openapi";

/** Ids are made by the library: letters and digits. */
export const id = z
  .string()
  .min(1)
  .max(80)
  .regex(/^[0-9A-Za-z_-]+$/, "no id of this library");
export const dayText = z.string().regex(/^\d{4}-(0[1-9]|1[0-2])-(0[1-9]|[12]\d|3[01])$/, "a day is written YYYY-MM-DD");
export const text = (most: number) => z.string().max(most).optional();
export const idParams = z.object({ id });

const fault = z
  .object({ code: z.string(), sentence: z.string(), remedy: z.string().optional() })
  .openapi("Fault", { description: "What is wrong, where, and what to do." });

export const finding = z
  .object({
    code: z.string(),
    severity: z.enum(["note", "caution", "stop"]),
    sentence: z.string(),
    remedy: z.string(),
    where: z
      .object({
        file: z.string().optional(),
        line: z.number().optional(),
        column: z.string().optional(),
        channel: z.string().optional(),
        plate: z.number().optional(),
        shot: z.string().optional(),
        event: z.string().optional(),
      })
      .optional(),
  })
  .openapi("Finding");

export const answered = <S extends z.ZodType>(schema: S) =>
  ({ description: "Done", content: { "application/json": { schema } } }) as const;
export const created = <S extends z.ZodType>(schema: S) =>
  ({ description: "Added", content: { "application/json": { schema } } }) as const;
export const body = <S extends z.ZodType>(schema: S) =>
  ({ required: true, content: { "application/json": { schema } } }) as const;
export const form = <S extends z.ZodType>(schema: S) =>
  ({ required: true, content: { "multipart/form-data": { schema } } }) as const;
export const bytes = {
  description: "The bytes as they were brought in",
  content: { "application/octet-stream": { schema: z.string().openapi({ format: "binary" }) } },
} as const;

const refused = {
  description: "Refused, with a sentence",
  content: { "application/json": { schema: fault } },
} as const;
/** 503: the disk is full or may not be written, or another program keeps the library busy. */
export const faults = {
  400: refused,
  403: refused,
  404: refused,
  409: refused,
  413: refused,
  415: refused,
  421: refused,
  422: refused,
  503: refused,
} as const;

type Changed<S extends z.ZodType> = S extends z.ZodOptional ? z.ZodOptional<z.ZodNullable<S>> : z.ZodOptional<S>;

/** The parts of a thing to be changed: each may be left out, and null takes a value away that need not be there. */
export const nullable = <P extends Readonly<Record<string, z.ZodType>>>(parts: P) =>
  z.strictObject(
    Object.fromEntries(
      Object.entries(parts).map(([name, schema]) => [
        name,
        schema instanceof z.ZodOptional ? schema.nullable().optional() : schema.optional(),
      ]),
    ) as unknown as { [N in keyof P]: Changed<P[N]> },
  );

/** How many rows at most, in an address. */
export const limitText = z.coerce.number().int().min(1).max(500);
/** Two numbers in an address, such as 1,5: both ends belong to it. */
export const rangeText = z
  .string()
  .regex(/^-?\d+(\.\d+)?,-?\d+(\.\d+)?$/, "a range is written as two numbers, such as 1,5")
  .openapi({ example: "1,5" });
