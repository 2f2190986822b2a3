import { refName, type Schema, typesOf } from "./schema.ts";

type Schemas = Readonly<Record<string, Schema>>;

/** Invented values for names that have a usual one. */
const BY_NAME: Readonly<Record<string, unknown>> = {
  code: "P01",
  name: "wedge 58",
  kind: "verify",
  file: "/media/stick/underfoot-2026-03-09.tar",
  folder: "/home/coach/underfoot",
  note: "Wind from the left.",
  seed: 1,
};

function textExample({ pattern, enum: words }: Schema): unknown {
  if (words) return words[0];
  if (pattern?.startsWith("^\\d{4}")) return "2026-03-09";
  return pattern === undefined ? "text" : "ID";
}

function listExample(schema: Schema, schemas: Schemas): unknown {
  if (schema.prefixItems) return schema.prefixItems.map((item) => exampleOf(item, schemas));
  const count = Math.max(1, schema.minItems ?? 1);
  const { items } = schema;
  return items ? Array.from({ length: count }, () => exampleOf(items, schemas)) : [];
}

/** The least of a shape that is accepted: what may be left out is left out. */
export function exampleOf(schema: Schema, schemas: Schemas, name = ""): unknown {
  if (schema.$ref !== undefined) return exampleOf(schemas[refName(schema.$ref)] ?? {}, schemas, name);
  if (schema.example !== undefined) return schema.example;
  if (schema.const !== undefined) return schema.const;
  const [way] = schema.anyOf ?? schema.oneOf ?? [];
  if (way) return exampleOf(way, schemas, name);
  if (schema.enum) return schema.enum[0];
  if (schema.pattern === undefined && Object.hasOwn(BY_NAME, name)) return BY_NAME[name];
  switch (typesOf(schema)[0]) {
    case "string":
      return textExample(schema);
    case "integer":
    case "number":
      return schema.minimum ?? (schema.exclusiveMinimum === undefined ? 1 : schema.exclusiveMinimum + 1);
    case "boolean":
      return true;
    case "array":
      return listExample(schema, schemas);
    case "object":
      return Object.fromEntries(
        (schema.required ?? []).map((part) => [part, exampleOf(schema.properties?.[part] ?? {}, schemas, part)]),
      );
    default:
      return null;
  }
}
