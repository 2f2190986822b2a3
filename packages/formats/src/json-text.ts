const LINE_LENGTH = 100;

/** JSON for people: two blanks a level, and what fits on one line stays on one line. Ends without a line end. */
export function jsonText(value: unknown, indent = ""): string {
  const flat = JSON.stringify(value);
  const isNested = typeof value === "object" && value !== null;
  if (!isNested || (indent !== "" && flat.length + indent.length <= LINE_LENGTH)) return spaced(value, flat);
  const inner = `${indent}  `;
  if (Array.isArray(value)) {
    if (value.length === 0) return "[]";
    return `[\n${value.map((one) => inner + jsonText(one, inner)).join(",\n")}\n${indent}]`;
  }
  const lines = Object.entries(value)
    .filter(([, one]) => one !== undefined)
    .map(([name, one]) => `${inner}${JSON.stringify(name)}: ${jsonText(one, inner)}`);
  return lines.length === 0 ? "{}" : `{\n${lines.join(",\n")}\n${indent}}`;
}

/** One line with a blank after each comma and colon. */
function spaced(value: unknown, flat: string): string {
  if (typeof value !== "object" || value === null) return flat;
  if (Array.isArray(value)) return `[${value.map((one) => spaced(one, JSON.stringify(one))).join(", ")}]`;
  const fields = Object.entries(value).filter(([, one]) => one !== undefined);
  if (fields.length === 0) return "{}";
  return `{ ${fields.map(([name, one]) => `${JSON.stringify(name)}: ${spaced(one, JSON.stringify(one))}`).join(", ")} }`;
}
