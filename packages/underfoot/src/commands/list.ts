import type { Library, Player, SessionLine, SessionQuery, ShotLine, ShotQuery } from "@underfoot/library";
import { type Call, type Command, choice, dayOf, wholeNumber } from "../command.ts";
import { LIBRARY_HELP, withLibrary } from "../library-place.ts";
import { countText, jsonText, print, tableText } from "../output.ts";
import { playerByCode } from "../player-by-code.ts";
import { UsageFault } from "../usage-fault.ts";

const HELP = `underfoot list [shots|sessions|players] [facts] [--limit N] [--format table|json] [--library DIR]

What the library holds: shots (as left out), sessions or players. All facts given must hold.

  --player CODE       of one player (shots, sessions)
  --from DAY --to DAY YYYY-MM-DD, both belong to it (shots, sessions)
  --session ID        of one session, in the order hit
  --intent WORD       what the player was asked for, as stock or low
  --lie NAME          as flat or upslope
  --club NAME         --contact clean|fat|thin|shank|top|miss
  --label             kept, mishit or set-aside
  --finding CODE      has this finding
  --file PART         part of the file's name
  --limit N           default 50
${LIBRARY_HELP}

  underfoot list --player P01 --lie upslope --from 2026-03-01
  underfoot list sessions --player P01 --format json
`;

const KINDS = ["shots", "sessions", "players"] as const;
type Kind = (typeof KINDS)[number];

const LABELS = ["kept", "mishit", "set-aside"] as const;

/** The facts that each kind can be asked for. */
const FACTS: Readonly<Record<Kind, readonly string[]>> = {
  shots: ["player", "from", "to", "session", "intent", "lie", "club", "label", "contact", "finding", "file"],
  sessions: ["player", "from", "to"],
  players: [],
};

const MOST_AT_ONCE = 500;

function kindOf(call: Call): Kind {
  const [word = "shots", ...others] = call.files;
  const kind = KINDS.find((one) => one === word);
  if (!kind || others.length > 0)
    throw new UsageFault(`list shows ${KINDS.join(", ")}; "${call.files.join(" ")}" is none of them.`);
  const wrong = FACTS.shots.find((fact) => call.values[fact] !== undefined && !FACTS[kind].includes(fact));
  if (wrong !== undefined) throw new UsageFault(`--${wrong} cannot be asked of ${kind}.`);
  return kind;
}

const present = <T extends object>(parts: T): { [K in keyof T]: Exclude<T[K], undefined> } =>
  Object.fromEntries(Object.entries(parts).filter(([, value]) => value !== undefined)) as never;

async function daysAndPlayer(library: Library, call: Call): Promise<SessionQuery> {
  const code = call.values["player"];
  return present({
    playerId: code === undefined ? undefined : (await playerByCode(library, code)).id,
    fromDay: dayOf(call, "from"),
    toDay: dayOf(call, "to"),
  });
}

async function shotQuery(library: Library, call: Call): Promise<ShotQuery> {
  const { values } = call;
  return present({
    ...(await daysAndPlayer(library, call)),
    sessionId: values["session"],
    intent: values["intent"],
    lieName: values["lie"],
    club: values["club"],
    label: values["label"] === undefined ? undefined : choice(call, "label", LABELS, "kept"),
    contact: values["contact"],
    findingCode: values["finding"],
    fileName: values["file"],
    order: values["session"] === undefined ? undefined : ("session" as const),
  });
}

interface Page<T> {
  readonly rows: readonly T[];
  readonly total: number;
  readonly next?: string;
}

/** As many rows as asked for, page by page. */
async function rowsUpTo<T>(
  limit: number,
  page: (at: { readonly limit: number; readonly after?: string }) => Promise<Page<T>>,
): Promise<{ readonly rows: readonly T[]; readonly total: number }> {
  const rows: T[] = [];
  let after: string | undefined;
  for (;;) {
    const size = Math.min(MOST_AT_ONCE, limit - rows.length);
    const { rows: more, total, next } = await page({ limit: size, ...(after === undefined ? {} : { after }) });
    rows.push(...more);
    if (next === undefined || rows.length >= limit) return { rows, total };
    after = next;
  }
}

const number = (value: number | undefined, decimals: number): string =>
  value === undefined ? "" : value.toFixed(decimals).replace("-", "\u2212");

const SHOT_HEAD = [
  ...["day", "player", "no.", "intent", "lie", "pitch \u00b0", "roll \u00b0", "club", "label", "contact"],
  ...["carry m", "worst finding", "shot", "file"],
];

const shotRow = (shot: ShotLine): string[] => [
  shot.day,
  shot.playerCode ?? "",
  shot.ordinal === 0 ? "" : String(shot.ordinal),
  shot.intent ?? "",
  shot.lieName ?? "",
  number(shot.pitchDeg, 1),
  number(shot.rollDeg, 1),
  shot.club ?? "",
  shot.label,
  shot.contact ?? "",
  number(shot.carryM, 1),
  shot.worstSeverity ?? "",
  shot.id,
  shot.fileName,
];

const sessionRow = (session: SessionLine): string[] => [
  session.day,
  session.playerCode,
  String(session.shotCount),
  session.place ?? "",
  session.id,
];

const playerRow = (player: Player): string[] => [
  player.code,
  player.handed,
  player.massKg === undefined ? "" : number(player.massKg, 1),
  `${player.consent}${player.consentDay === undefined ? "" : ` (${player.consentDay})`}`,
  player.shoes ?? "",
  player.id,
];

interface Listing {
  readonly head: readonly string[];
  readonly rows: readonly (readonly string[])[];
  readonly data: readonly unknown[];
  readonly total: number;
}

async function listingOf(library: Library, call: Call, kind: Kind, limit: number): Promise<Listing> {
  if (kind === "players") {
    const all = await library.players.list();
    const shown = all.slice(0, limit);
    const head = ["player", "handed", "mass kg", "consent", "shoes", "id"];
    return { head, rows: shown.map(playerRow), data: shown, total: all.length };
  }
  if (kind === "sessions") {
    const query = await daysAndPlayer(library, call);
    const { rows, total } = await rowsUpTo(limit, (at) => library.sessions.list({ ...query, ...at }));
    return { head: ["day", "player", "shots", "place", "session"], rows: rows.map(sessionRow), data: rows, total };
  }
  const query = await shotQuery(library, call);
  const { rows, total } = await rowsUpTo(limit, (at) => library.shots.find({ ...query, ...at }));
  return { head: SHOT_HEAD, rows: rows.map(shotRow), data: rows, total };
}

function closing(kind: Kind, { rows, total }: Listing): string {
  const what = countText(total, kind.slice(0, -1));
  if (total === 0) return `No ${kind} like that in this library.\n`;
  return rows.length < total ? `${rows.length} of ${what}; --limit N shows more.\n` : `${what}.\n`;
}

async function run(call: Call): Promise<number> {
  const kind = kindOf(call);
  const format = choice(call, "format", ["table", "json"], "table");
  const limit = wholeNumber(call, "limit", { least: 1, most: 1_000_000, fallback: 50 });
  for (const day of ["from", "to"]) dayOf(call, day);
  if (call.values["label"] !== undefined) choice(call, "label", LABELS, "kept");
  return withLibrary(call, {}, async (library) => {
    const listing = await listingOf(library, call, kind, limit);
    if (format === "json") await print(jsonText({ total: listing.total, [kind]: listing.data }));
    else {
      if (listing.rows.length > 0) await print(tableText([listing.head, ...listing.rows]));
      await print(closing(kind, listing));
    }
    return 0;
  });
}

export const list: Command = {
  name: "list",
  summary: "find shots, sessions or players in the library",
  help: HELP,
  options: {
    ...Object.fromEntries(FACTS.shots.map((fact) => [fact, { type: "string" as const }])),
    limit: { type: "string" },
    format: { type: "string" },
    library: { type: "string" },
  },
  run,
};
