import type { LabLetter } from "./lab-axes.ts";
import type { TextColumn } from "./text-sniff.ts";
import { textUnit } from "./text-units.ts";

/** What a column's name and unit hint at. Hints order proposals; nothing is taken from them unasked. */
export interface ColumnHint {
  readonly column: TextColumn;
  readonly quantity: "force" | "moment" | "cop" | "signal" | "none";
  readonly letter?: LabLetter;
  /** left, right, lead, trail, a number, or nothing: columns of one plate share it. */
  readonly plate: string;
}

const QUANTITIES: Readonly<Record<string, "force" | "moment" | "cop">> = {
  f: "force",
  force: "force",
  grf: "force",
  m: "moment",
  moment: "moment",
  torque: "moment",
  p: "cop",
  cop: "cop",
};
const SIDES: Readonly<Record<string, string>> = {
  l: "left",
  left: "left",
  r: "right",
  right: "right",
  lead: "lead",
  trail: "trail",
};

/** "FX1", "Fz L", "Force_Left_Z", "CoP x (mm)" in their parts, lower case. */
function tokensOf(name: string): readonly string[] {
  return name
    .replace(/[[(][^\])]*[\])]\s*$/, "")
    .replace(/cop/gi, " cop ")
    .replace(/([a-z])([A-Z])/g, "$1 $2")
    .replace(/([A-Za-z])(\d)/g, "$1 $2")
    .replace(/(\d)([A-Za-z])/g, "$1 $2")
    .toLowerCase()
    .split(/[^a-z\d]+/)
    .filter((token) => token !== "");
}

const PREFIXES: Readonly<Record<string, ColumnHint["quantity"]>> = {
  f: "force",
  m: "moment",
  t: "moment",
  p: "cop",
  a: "cop",
};

interface TokenHint {
  readonly quantity?: ColumnHint["quantity"];
  readonly letter?: LabLetter;
  readonly plate?: string;
}

/** "fz" is a force along z, "z" a direction, "l" the left plate, "2" the second one; other words say nothing. */
function tokenHint(token: string): TokenHint {
  const [, kind = "", axis] = /^([fmtpa]?)([xyz])$/.exec(token) ?? [];
  if (axis === "x" || axis === "y" || axis === "z") {
    const quantity = PREFIXES[kind];
    return quantity === undefined ? { letter: axis } : { letter: axis, quantity };
  }
  const quantity = Object.hasOwn(QUANTITIES, token) ? QUANTITIES[token] : undefined;
  if (quantity !== undefined) return { quantity };
  const side = Object.hasOwn(SIDES, token) ? SIDES[token] : undefined;
  if (side !== undefined) return { plate: side };
  return /^\d+$/.test(token) ? { plate: token } : {};
}

export function columnHint(column: TextColumn): ColumnHint {
  const hints = tokensOf(column.name).map(tokenHint);
  const { quantity = "none", letter, plate = "" }: TokenHint = Object.assign({}, ...hints);
  const unit = textUnit(column.unit)?.quantity;
  const byUnit = unit === "length" ? "cop" : unit === "time" ? undefined : unit;
  return { column, quantity: byUnit ?? quantity, plate, ...(letter === undefined ? {} : { letter }) };
}
