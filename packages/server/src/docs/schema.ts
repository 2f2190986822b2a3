/** JSON Schema, as far as the published description uses it. */
export interface Schema {
  readonly $ref?: string;
  readonly type?: string | readonly string[];
  readonly format?: string;
  readonly enum?: readonly unknown[];
  readonly const?: unknown;
  readonly pattern?: string;
  readonly minLength?: number;
  readonly maxLength?: number;
  readonly minimum?: number;
  readonly maximum?: number;
  readonly exclusiveMinimum?: number;
  readonly minItems?: number;
  readonly maxItems?: number;
  readonly items?: Schema;
  readonly prefixItems?: readonly Schema[];
  readonly properties?: Readonly<Record<string, Schema>>;
  readonly required?: readonly string[];
  readonly additionalProperties?: boolean | Schema;
  readonly anyOf?: readonly Schema[];
  readonly oneOf?: readonly Schema[];
  readonly allOf?: readonly Schema[];
  readonly description?: string;
  readonly example?: unknown;
}

/** The last part of "#/components/schemas/Player". */
export const refName = (ref: string): string => ref.slice(ref.lastIndexOf("/") + 1);

/** The types a value may have; null is one. */
export function typesOf({ type }: Schema): readonly string[] {
  if (type === undefined) return [];
  return typeof type === "string" ? [type] : type;
}
