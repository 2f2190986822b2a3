import type { UnderfootError } from "@underfoot/domain";
import { serverFaults, shown } from "./faults.ts";

/** What the parser says of one thing that does not fit: zod's issue, as far as it is used here. */
export interface Issue {
  readonly code?: string | undefined;
  readonly path: readonly PropertyKey[];
  readonly message: string;
  readonly [more: string]: unknown;
}

const PLACES: Readonly<Record<string, string>> = {
  query: "In the query",
  param: "In the address",
  form: "In the form",
  json: "",
};

/** plates[1].foot */
function pathText(path: readonly PropertyKey[]): string {
  return path.reduce<string>(
    (text, part) =>
      typeof part === "number"
        ? `${text}[${part}]`
        : text === ""
          ? shown(String(part))
          : `${text}.${shown(String(part))}`,
    "",
  );
}

const KINDS: Readonly<Record<string, string>> = {
  string: "a text",
  number: "a number",
  int: "a whole number",
  boolean: "true or false",
  array: "a list",
  tuple: "a list",
  object: "an object",
  record: "an object",
};

const amount = (origin: unknown, limit: unknown): string =>
  origin === "string" ? `${limit} characters` : origin === "array" ? `${limit} entries` : String(limit);

/** What has to be so, as the end of a sentence. */
function wanted(issue: Issue): string {
  switch (issue.code) {
    case "invalid_type": {
      if (/received undefined$/.test(issue.message)) return "is missing";
      return `must be ${KINDS[String(issue["expected"])] ?? String(issue["expected"])}`;
    }
    case "too_small":
      return `must be ${issue["inclusive"] === false ? "more than" : "at least"} ${amount(issue["origin"], issue["minimum"])}`;
    case "too_big":
      return `must be ${issue["inclusive"] === false ? "less than" : "at most"} ${amount(issue["origin"], issue["maximum"])}`;
    case "invalid_value":
      return `must be one of ${(issue["values"] as readonly unknown[]).map(String).join(", ")}`;
    case "invalid_union":
      return "has a kind or a form that is not known here";
    case "unrecognized_keys":
      return `has parts that are not known here: ${(issue["keys"] as readonly string[]).map(shown).join(", ")}`;
    default:
      return `does not fit: ${issue.message}`;
  }
}

/**
 * One sentence that names the field, out of what the parser found; the first of many.
 *
 * @param place  query, param, form or json
 */
export function plainIssue(place: string, issues: readonly Issue[]): UnderfootError {
  const [first] = issues;
  if (first === undefined) return serverFaults.wrongRequest("What was sent does not fit.");
  const where = PLACES[place] ?? "";
  const name = pathText(first.path);
  const subject = name === "" ? "what was sent" : `"${name}"`;
  const lead = where === "" ? (name === "" ? "What was sent" : subject) : `${where}, ${subject}`;
  const more = issues.length > 1 ? ` (and ${issues.length - 1} more)` : "";
  return serverFaults.wrongRequest(`${lead} ${wanted(first)}${more}.`);
}
