import { type ColumnDefinitionBuilder, type Kysely, sql } from "kysely";
import type { Migration } from "kysely/migration";
import type { Engine } from "./catalogue.ts";

type Build = (column: ColumnDefinitionBuilder) => ColumnDefinitionBuilder;
const needed: Build = (column) => column.notNull();
const to =
  (table: string, build: Build = (column) => column): Build =>
  (column) =>
    build(column.references(`${table}.id`));

/** [name, type, rest] of every column but the key, which is always the text `id`. */
type Columns = readonly (readonly [string, "text" | "bigint" | "integer" | "double precision" | "bytes", Build?])[];

const created = ["created_ms", "bigint", needed] as const;

const FIRST_TABLES: readonly (readonly [string, Columns])[] = [
  [
    "players",
    [
      ["code", "text", (column) => column.notNull().unique()],
      ["name", "text"],
      ["handed", "text", needed],
      ["pronoun", "text", needed],
      ["mass_kg", "double precision"],
      ["consent", "text", needed],
      ["consent_day", "text"],
      ["notes", "text"],
      ["shoes", "text"],
      created,
    ],
  ],
  [
    "foot_outlines",
    [
      ["player_id", "text", to("players", needed)],
      ["foot", "text", needed],
      ["shoes", "text"],
      ["outline_json", "text", needed],
      created,
    ],
  ],
  [
    "clubs",
    [
      ["name", "text", (column) => column.notNull().unique()],
      ["loft_deg", "double precision"],
      ["note", "text"],
      created,
    ],
  ],
  ["plate_layouts", [["name", "text", needed], ["plates_json", "text", needed], ["note", "text"], created]],
  [
    "sessions",
    [
      ["player_id", "text", to("players", needed)],
      ["layout_id", "text", to("plate_layouts")],
      ["day", "text", needed],
      ["place", "text"],
      ["plan_json", "text"],
      ["note", "text"],
      created,
    ],
  ],
  [
    "recordings",
    [
      ["byte_count", "bigint", needed],
      ["format", "text", needed],
      ["rate_hz", "double precision", needed],
      ["sample_count", "bigint", needed],
      created,
    ],
  ],
  [
    "plate_checks",
    [
      ["session_id", "text", to("sessions", needed)],
      ["kind", "text", needed],
      ["allowed", "double precision"],
      ["found", "double precision"],
      ["unit", "text", needed],
      ["is_passed", "integer", needed],
      ["went_on", "integer", needed],
      ["note", "text"],
      ["recording_id", "text", to("recordings")],
      ["detail_json", "text"],
      created,
    ],
  ],
  [
    "shots",
    [
      ["session_id", "text", to("sessions")],
      ["player_id", "text", to("players")],
      ["recording_id", "text", to("recordings", needed)],
      ["first_sample", "bigint", needed],
      ["end_sample", "bigint", needed],
      ["ordinal", "integer", needed],
      ["day", "text", needed],
      ["file_name", "text", needed],
      ["label", "text", needed],
      ["intent", "text"],
      ["lie_name", "text"],
      ["pitch_deg", "double precision"],
      ["roll_deg", "double precision"],
      ["club", "text"],
      ["contact", "text"],
      ["start_line_deg", "double precision"],
      ["carry_m", "double precision"],
      ["worst_severity", "integer", needed],
      created,
      ["removed_ms", "bigint"],
    ],
  ],
  [
    "shot_facts",
    [
      ["facts_json", "text"],
      ["mapping_json", "text"],
    ],
  ],
  [
    "findings",
    [
      ["shot_id", "text", to("shots", needed)],
      ["source", "text", needed],
      ["check_id", "text"],
      ["code", "text", needed],
      ["severity", "integer", needed],
      ["sentence", "text", needed],
      ["remedy", "text", needed],
      ["where_json", "text"],
    ],
  ],
  ["value_layouts", [["columns_json", "text", needed]]],
  [
    "results",
    [
      ["cache_key", "text", needed],
      ["version", "text", needed],
      ["status", "text", needed],
      ["layout_id", "text", to("value_layouts", needed)],
      ["made_ms", "bigint", needed],
      ["packed_values", "bytes", needed],
      ["packed_sigmas", "bytes", needed],
      ["texts_json", "text"],
      ["measures_json", "text"],
    ],
  ],
  ["settings", [["value_json", "text", needed]]],
  [
    "history",
    [
      ["made_ms", "bigint", needed],
      ["made_by", "text", needed],
      ["deed", "text", needed],
      ["shot_id", "text"],
      ["session_id", "text"],
      ["player_id", "text"],
      ["changes_json", "text", needed],
      ["undoes_id", "text"],
      ["undone_by_id", "text"],
    ],
  ],
  ["removals", []],
];

/** Each for a question that people ask, or for a reference that is followed backwards. */
const FIRST_INDEXES: readonly (readonly [string, readonly string[]])[] = [
  ["foot_outlines", ["player_id", "foot", "id"]],
  ["sessions", ["day", "id"]],
  ["sessions", ["player_id", "day", "id"]],
  ["sessions", ["layout_id"]],
  ["plate_checks", ["session_id", "id"]],
  ["plate_checks", ["recording_id"]],
  ["shots", ["session_id", "ordinal", "id"]],
  ["shots", ["player_id", "intent", "lie_name", "id"]],
  ["shots", ["player_id", "id"]],
  ["shots", ["intent", "lie_name", "id"]],
  ["shots", ["lie_name", "id"]],
  ["shots", ["club", "id"]],
  ["shots", ["label", "id"]],
  ["shots", ["contact", "id"]],
  ["shots", ["day", "id"]],
  ["shots", ["worst_severity", "id"]],
  ["shots", ["recording_id", "first_sample", "end_sample"]],
  ["findings", ["shot_id"]],
  ["findings", ["code", "shot_id"]],
  ["history", ["shot_id", "id"]],
  ["history", ["session_id", "id"]],
  ["history", ["player_id", "id"]],
];

/** The steps from an empty catalogue to today's, by number, never changed once shipped. */
export function migrations(engine: Engine): Record<string, Migration> {
  const bytes = engine === "postgres" ? sql`bytea` : sql`blob`;
  return {
    "0001": {
      up: async (db: Kysely<unknown>) => {
        for (const [table, columns] of FIRST_TABLES) {
          let step = db.schema.createTable(table).addColumn("id", "text", (column) => column.primaryKey().notNull());
          for (const [name, type, build] of columns)
            step = step.addColumn(name, type === "bytes" ? bytes : type, build);
          await step.execute();
        }
        for (const [table, columns] of FIRST_INDEXES) {
          await db.schema
            .createIndex(`${table}_by_${columns.join("_")}`)
            .on(table)
            .columns([...columns])
            .execute();
        }
      },
    },
    "0002": {
      up: async (db: Kysely<unknown>) => {
        for (const [name, type] of [
          ["packed_shared", bytes],
          ["packed_shares", bytes],
          ["events_json", "text"],
        ] as const)
          await db.schema.alterTable("results").addColumn(name, type).execute();
      },
    },
  };
}
