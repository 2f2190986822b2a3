import { refName, type Schema, typesOf } from "./schema.ts";

const KINDS: Readonly<Record<string, string>> = { string: "text", boolean: "true or false", integer: "whole number" };

/** "1 to 40", "at least 1", "at most 40"; empty without limits. */
function between(least: number | undefined, most: number | undefined): string {
  if (least !== undefined && most !== undefined) return least === most ? `${least}` : `${least} to ${most}`;
  if (least !== undefined) return `at least ${least}`;
  return most === undefined ? "" : `at most ${most}`;
}

function limits({ minLength, maxLength, minimum, maximum, exclusiveMinimum, pattern }: Schema): string {
  const characters = between(minLength, maxLength);
  const parts = [
    ...(characters === "" ? [] : [`${characters} characters`]),
    ...[between(minimum, maximum)].filter((text) => text !== ""),
    ...(exclusiveMinimum === undefined ? [] : [`more than ${exclusiveMinimum}`]),
    ...(pattern?.startsWith("^\\d{4}") ? ["YYYY-MM-DD"] : []),
  ];
  return parts.length === 0 ? "" : ` (${parts.join(", ")})`;
}

function listText(schema: Schema, indent: string): string {
  if (schema.prefixItems) return `[${schema.prefixItems.map((item) => shapeText(item, indent)).join(", ")}]`;
  const count = between(schema.minItems, schema.maxItems);
  const of = schema.items ? shapeText(schema.items, indent) : "anything";
  return `list of ${of}${count === "" ? "" : `, ${count} of them`}`;
}

function objectText({ properties = {}, required = [], additionalProperties }: Schema, indent: string): string {
  const names = Object.entries(properties);
  if (names.length === 0)
    return typeof additionalProperties === "object" && Object.keys(additionalProperties).length > 0
      ? `object, each part ${shapeText(additionalProperties, indent)}`
      : "object";
  const inner = `${indent}  `;
  const lines = names.map(([name, part]) => {
    const said = part.description === undefined ? "" : `  // ${part.description}`;
    return `${inner}${name}${required.includes(name) ? "" : "?"}: ${shapeText(part, inner)}${said}`;
  });
  return `{\n${lines.join("\n")}\n${indent}}`;
}

/**
 * A shape in a few words a line; `?` stands behind what may be left out, a name such as Player is a shape of its own.
 *
 * @param indent  of the line it stands in
 */
export function shapeText(schema: Schema, indent = ""): string {
  if (schema.$ref !== undefined) return refName(schema.$ref);
  const ways = schema.anyOf ?? schema.oneOf;
  if (ways) return ways.map((way) => shapeText(way, indent)).join(" or ");
  if (schema.allOf) return schema.allOf.map((part) => shapeText(part, indent)).join(" with ");
  if (schema.enum) return schema.enum.map((value) => JSON.stringify(value)).join(" | ");
  if (schema.const !== undefined) return JSON.stringify(schema.const);
  if (schema.format === "binary") return "file";
  const types = typesOf(schema);
  if (types.length === 0) return "anything";
  return types
    .map((type) => {
      if (type === "array") return listText(schema, indent);
      if (type === "object") return objectText(schema, indent);
      return type === "null" ? "null" : `${KINDS[type] ?? type}${limits(schema)}`;
    })
    .join(" or ");
}
