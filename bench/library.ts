// npm run bench -- library [--shots 100000] [--imports 200] [--postgres]: makes a library of so many invented shots, opens
// it in a new process, and asks the five commonest questions, each 20 times with other players, sessions and findings.
// The shots share a few simulated recordings by content, under facts of their own, and their rows are put in many at a
// time; the import rate is measured apart, on recordings that are all different, brought in one by one.
import { execFileSync } from "node:child_process";
import { mkdtempSync, readdirSync, rmSync, statSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { parseArgs } from "node:util";
import { type Random, random, type ShotFacts } from "../packages/domain/src/index.ts";
import { shotFactsFromSidecar } from "../packages/formats/src/index.ts";
import { openCatalogue } from "../packages/library/src/catalogue/catalogue.ts";
import type { CatalogueTables } from "../packages/library/src/catalogue/catalogue-tables.ts";
import { countedRows } from "../packages/library/src/catalogue/copy-catalogue.ts";
import { idMaker } from "../packages/library/src/catalogue/new-id.ts";
import { postgresPrograms, throwawayPostgres } from "../packages/library/src/catalogue/throwaway-postgres.ts";
import { type Library, openLibrary } from "../packages/library/src/index.ts";
import { currentLayout, packedMeasures } from "../packages/library/src/results/packed-values.ts";
import { factColumns } from "../packages/library/src/shots/shot-columns.ts";
import { shotOutcome, simulatedFiles } from "../packages/pipeline/src/index.ts";
import { demoShots, simulateShot } from "../packages/simulator/src/index.ts";

const PLAYERS = 40;
const SHOTS_A_SESSION = 40;
const ASKED_TIMES = 20;
const ROWS_AT_ONCE = 400;
const DAY_MS = 86_400_000;
const FREE_HEADER_BYTE = 64;
const INTENTS = ["stock", "steep", "shallow", "low", "high"];
const LIES = ["flat", "upslope", "downslope", "ball above feet"];

interface Place {
  readonly folder: string;
  readonly postgresUrl?: string;
}

interface Sample {
  readonly bytes: Uint8Array;
  readonly fileName: string;
  readonly facts: ShotFacts;
}

function samples(): readonly Sample[] {
  return demoShots({ seed: 1 })
    .slice(0, 8)
    .map((plan) => {
      const fileName = `${plan.name}.c3d`;
      const { c3d, sidecar } = simulatedFiles(simulateShot(plan), fileName);
      return { bytes: c3d, fileName, facts: shotFactsFromSidecar(sidecar).facts };
    });
}

type Rows = { [T in "shots" | "shot_facts" | "findings" | "results" | "history"]: CatalogueTables[T][] };

/** Rows of one shot, as importing and computing would have left them. */
function shotRows(
  rows: Rows,
  at: {
    readonly k: number;
    readonly sessionId: string;
    readonly playerId: string;
    readonly day: string;
    readonly ms: number;
    readonly newId: () => string;
    readonly dice: Random;
    readonly sample: Sample & {
      readonly sha256: string;
      readonly sampleCount: number;
      readonly outcome: ReturnType<typeof shotOutcome>;
    };
  },
): void {
  const { dice, newId, sample } = at;
  const id = newId();
  const facts: ShotFacts = {
    ...sample.facts,
    intent: INTENTS[dice.below(5)]!,
    lieName: LIES[dice.below(4)]!,
    club: `wedge ${52 + 4 * dice.below(3)}`,
    keep: dice.below(12) === 0 ? "set-aside" : "kept",
  };
  const found = [
    { code: "invented-usual", severity: 1 },
    ...(dice.below(20) === 0 ? [{ code: "invented-seldom", severity: 2 }] : []),
    ...(at.k % 5003 === 0 ? [{ code: "invented-rare", severity: 3 }] : []),
  ];
  rows.shots.push({
    ...{
      id,
      session_id: at.sessionId,
      player_id: at.playerId,
      recording_id: sample.sha256,
      first_sample: 0,
      end_sample: sample.sampleCount,
    },
    ...{ ordinal: (at.k % SHOTS_A_SESSION) + 1, day: at.day, file_name: `shot-${at.k}.c3d`, ...factColumns(facts) },
    ...{ worst_severity: Math.max(...found.map(({ severity }) => severity)), created_ms: at.ms, removed_ms: null },
  });
  rows.shot_facts.push({ id, facts_json: JSON.stringify(facts), mapping_json: null });
  for (const { code, severity } of found)
    rows.findings.push({
      id: newId(),
      shot_id: id,
      source: "chain",
      check_id: null,
      code,
      severity,
      sentence: "An invented finding of the bench.",
      remedy: "Nothing is to be done.",
      where_json: null,
    });
  const measures =
    sample.outcome.status === "ok"
      ? sample.outcome.measures.map((measure) => ({ ...measure, value: measure.value + dice.normal() * measure.sigma }))
      : [];
  const packed = packedMeasures(measures, currentLayoutOnce);
  rows.results.push({
    id,
    cache_key: "0".repeat(64),
    version: "bench",
    status: "ok",
    layout_id: currentLayoutOnce.id,
    made_ms: at.ms,
    packed_values: packed.values,
    packed_sigmas: packed.sigmas,
    packed_shared: packed.shared,
    packed_shares: packed.shares,
    texts_json: JSON.stringify(packed.texts),
    events_json: null,
    measures_json: null,
  });
  rows.history.push({
    id: newId(),
    made_ms: at.ms,
    made_by: "bench",
    deed: "brought in",
    shot_id: id,
    session_id: at.sessionId,
    player_id: at.playerId,
    changes_json: "[]",
    undoes_id: null,
    undone_by_id: null,
  });
}

const currentLayoutOnce = currentLayout();

/** Fills an empty library with `shots` shots over eight years. */
async function fill(place: Place, shots: number): Promise<void> {
  const library = await openLibrary({ ...place, who: "bench" });
  const known = [];
  for (const sample of samples()) {
    const { recordingSha256, shotId } = await library.importRecording(sample);
    const outcome = shotOutcome({ ...sample, file: sample.fileName });
    const { stretch } = await library.shots.byId(shotId);
    known.push({ ...sample, sha256: recordingSha256, sampleCount: stretch.end, outcome });
  }
  const players = [];
  for (let k = 0; k < PLAYERS; k++)
    players.push(
      await library.players.add({
        code: `P${String(k + 1).padStart(2, "0")}`,
        handed: "right",
        pronoun: "they",
        consent: "study",
      }),
    );
  await library.close();
  const catalogue = await openCatalogue(place);
  const dice = random(1, "library bench");
  let ms = Date.UTC(2018, 0, 1);
  const newId = idMaker(() => ms, dice);
  await catalogue.db
    .insertInto("value_layouts")
    .values({ id: currentLayoutOnce.id, columns_json: JSON.stringify(currentLayoutOnce.columns) })
    .onConflict((on) => on.doNothing())
    .execute();
  for (let first = 0; first < shots; first += ROWS_AT_ONCE) {
    const rows: Rows = { shots: [], shot_facts: [], findings: [], results: [], history: [] };
    const sessions: CatalogueTables["sessions"][] = [];
    for (let k = first; k < Math.min(shots, first + ROWS_AT_ONCE); k++) {
      ms += Math.round((8 * 365 * DAY_MS) / shots);
      if (k % SHOTS_A_SESSION === 0)
        sessions.push({
          id: newId(),
          player_id: players[dice.below(PLAYERS)]!.id,
          layout_id: null,
          day: new Date(ms).toISOString().slice(0, 10),
          place: "bench",
          plan_json: null,
          note: null,
          created_ms: ms,
        });
      const session = sessions.at(-1)!;
      shotRows(rows, {
        k,
        sessionId: session.id,
        playerId: session.player_id,
        day: session.day,
        ms,
        newId,
        dice,
        sample: known[dice.below(known.length)]!,
      });
    }
    await catalogue.change(async (trx) => {
      await trx.insertInto("sessions").values(sessions).execute();
      for (const table of ["shots", "shot_facts", "findings", "results", "history"] as const)
        await trx.insertInto(table).values(rows[table]).execute();
    });
    if (process.stderr.isTTY)
      process.stderr.write(`\r${Math.min(shots, first + ROWS_AT_ONCE)} of ${shots} shots\u001b[K`);
  }
  await countedRows(catalogue);
  await catalogue.close();
}

const timed = async (deed: () => Promise<unknown>): Promise<number> => {
  const start = performance.now();
  await deed();
  return performance.now() - start;
};

interface Asked {
  readonly openMs: number;
  /** The slowest of all times it was asked, the first included. */
  readonly questionsMs: Readonly<Record<string, number>>;
  readonly questionsMedianMs: Readonly<Record<string, number>>;
  readonly rssMb: number;
}

/** In a process of its own: opens the library and asks. */
async function ask(place: Place): Promise<Asked> {
  let library: Library | undefined;
  const openMs = await timed(async () => {
    library = await openLibrary(place);
  });
  if (!library) throw new RangeError("not open");
  const { players, sessions, shots, results, close } = library;
  const dice = random(2, "library bench asks");
  const everyone = await players.list();
  const { rows: latest } = await sessions.list({ limit: 500 });
  const codes = ["invented-usual", "invented-seldom", "invented-rare", "no-such-finding"];
  const questions: Record<string, () => Promise<unknown>> = {
    "latest sessions": () => sessions.list({ limit: 50 }),
    "shots of a session": () =>
      shots.find({ sessionId: latest[dice.below(latest.length)]!.id, order: "session", limit: 200 }),
    "shots by player, intent and lie": () =>
      shots.find({
        playerId: everyone[dice.below(everyone.length)]!.id,
        intent: INTENTS[dice.below(5)]!,
        lieName: LIES[dice.below(4)]!,
      }),
    "shots with a finding": () => shots.find({ findingCode: codes[dice.below(codes.length)]! }),
    "one measure of a player over sessions": () =>
      results.measure({ playerId: everyone[dice.below(everyone.length)]!.id, measure: "lead.share.at.impact" }),
    "all shots, newest first": () => shots.find(),
    "shots of an intent, kept, in a year": () =>
      shots.find({ intent: INTENTS[dice.below(5)]!, label: "kept", fromDay: "2021-01-01", toDay: "2021-12-31" }),
    "shots by carry": () => shots.find({ carryM: [30, 31] }),
    "all words that occur": () => shots.words(),
    "words of a player": () => shots.words({ playerId: everyone[dice.below(everyone.length)]!.id }),
  };
  const questionsMs: Record<string, number> = {};
  const questionsMedianMs: Record<string, number> = {};
  for (const [name, question] of Object.entries(questions)) {
    const times: number[] = [];
    for (let k = 0; k < ASKED_TIMES; k++) times.push(await timed(question));
    times.sort((a, b) => a - b);
    questionsMs[name] = times.at(-1)!;
    questionsMedianMs[name] = times[ASKED_TIMES >> 1]!;
  }
  const rssMb = process.memoryUsage().rss / 2 ** 20;
  await close();
  return { openMs, questionsMs, questionsMedianMs, rssMb };
}

/** Recordings that are all different, brought in one by one, then computed on all cores. */
async function importRate(
  place: Place,
  count: number,
): Promise<{ readonly importPerS: number; readonly recomputePerS: number }> {
  const library = await openLibrary({ ...place, who: "bench" });
  const player = await library.players.add({ code: "IMPORT", handed: "right", pronoun: "they", consent: "none" });
  const all = samples().map((sample) => ({ ...sample, bytes: sample.bytes.slice() }));
  const importMs = await timed(async () => {
    for (let k = 0; k < count; k++) {
      const { bytes, facts } = all[k % all.length]!;
      new DataView(bytes.buffer).setUint32(FREE_HEADER_BYTE, k + 1, true);
      await library.importRecording({ bytes, fileName: `bench-${k}.c3d`, facts, playerId: player.id });
    }
  });
  const recomputeMs = await timed(() => library.recompute({ playerId: player.id }));
  await library.close();
  return { importPerS: (1000 * count) / importMs, recomputePerS: (1000 * count) / recomputeMs };
}

function bytesBelow(folder: string): number {
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .reduce((total, entry) => total + statSync(join(entry.parentPath, entry.name)).size, 0);
}

const rounded = (value: unknown): unknown =>
  JSON.parse(
    JSON.stringify(value, (_, item: unknown) => (typeof item === "number" ? Number(item.toPrecision(4)) : item)),
  );

export async function run(args: string[]): Promise<object> {
  const { values } = parseArgs({
    args,
    options: {
      shots: { type: "string", default: "100000" },
      imports: { type: "string", default: "200" },
      postgres: { type: "boolean", default: false },
    },
  });
  const shots = Number(values.shots);
  const root = mkdtempSync(join(tmpdir(), "underfoot-bench-"));
  const programs = values.postgres ? postgresPrograms() : undefined;
  const server = programs === undefined ? undefined : await throwawayPostgres(programs);
  const place: Place = { folder: join(root, "library"), ...(server ? { postgresUrl: server.database() } : {}) };
  try {
    const fillMs = await timed(() => fill(place, shots));
    const bytes = bytesBelow(place.folder);
    const answer = execFileSync(
      process.execPath,
      [import.meta.filename, "--ask", place.folder, ...(place.postgresUrl ? ["--url", place.postgresUrl] : [])],
      { encoding: "utf8" },
    );
    const asked = JSON.parse(answer) as Asked;
    const rates = await importRate(place, Number(values.imports));
    const note =
      "Rows put in many at a time; the shots share 8 simulated recordings by content. importPerS: 314 kB recordings, all different, one by one, each on the disk before the next. Times are the slowest of 20.";
    return rounded({
      shots,
      engine: server ? "postgres" : "sqlite",
      ...asked,
      ...rates,
      bytes,
      fillS: fillMs / 1000,
      note,
    }) as object;
  } finally {
    server?.stop();
    rmSync(root, { recursive: true, force: true });
  }
}

if (import.meta.main) {
  const { values } = parseArgs({ options: { ask: { type: "string" }, url: { type: "string" } } });
  if (values.ask !== undefined)
    console.log(JSON.stringify(await ask({ folder: values.ask, ...(values.url ? { postgresUrl: values.url } : {}) })));
}
