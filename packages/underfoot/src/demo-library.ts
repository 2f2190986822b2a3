import { existsSync } from "node:fs";
import { rename, rm, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { type Recording, random, type ShotFacts, VERSION } from "@underfoot/domain";
import { type LaidPlate, type Library, openLibrary, type Player, type SessionPlan } from "@underfoot/library";
import { simulatedFiles } from "@underfoot/pipeline";
import { DEMO_NOTICE, demoShots, type SimulatedShotPlan, simulateShot } from "@underfoot/simulator";
import { demoStudy } from "./demo-study.ts";
import { type DemoSession, demoYear } from "./demo-year.ts";
import { progress } from "./output.ts";

/** The demo is the same on every machine. */
const DEMO_SEED = 1;

/** The demo's own time: a session's shots are a minute apart, so that lists stand in the order of the story. */
interface DemoClock {
  nowMs: number;
}

const SHOT_APART_MS = 60_000;

/** Those who agreed to reports of their own only: no study may count them. */
const NOT_OF_STUDIES: readonly string[] = ["Player A", "Player B"];

/** The day on which the players of the story with one session each are on the plates. */
const STORY_DAY = "2026-03-17";

function demoSessions(): readonly DemoSession[] {
  const story = demoShots({ seed: DEMO_SEED });
  const names = [...new Set(story.map(({ player }) => player.name))];
  const ofStory = names.map(
    (name): DemoSession => ({
      day: STORY_DAY,
      note: "Five intents on four lies.",
      seed: DEMO_SEED,
      plans: story.filter(({ player }) => player.name === name),
    }),
  );
  return [...demoStudy(DEMO_SEED), ...demoYear(DEMO_SEED), ...ofStory];
}

/** The demo's plan of a session: what was hit is what was asked for, in that order. */
function planOf({ seed, plans }: DemoSession): SessionPlan {
  const drawn = plans.map(({ intent, lie, club }) => ({ intent, lieName: lie.name, ...(club ? { club } : {}) }));
  const keys = drawn.map((shot) => JSON.stringify(shot));
  const lies = new Map(plans.map(({ lie }) => [lie.name, lie]));
  return {
    order: "as-given",
    seed,
    lies: [...lies.values()].map(({ name, pitchDeg, rollDeg }) => ({
      ...{ name, pitchDeg, rollDeg },
      ...{ source: "inclinometer" as const, sdDeg: 0.2 },
    })),
    conditions: drawn
      .filter((_, k) => keys.indexOf(keys[k] ?? "") === k)
      .map((shot) => ({ ...shot, count: keys.filter((key) => key === JSON.stringify(shot)).length })),
    asked: [],
    drawn,
  };
}

/** Invented plates as they lie in the first recording of a session. */
function laidPlates(recording: Recording, facts: ShotFacts): LaidPlate[] {
  return recording.plates.map(({ index, corners, isPlaced }) => ({
    plate: index,
    foot: facts.plates.find(({ plate }) => plate === index)?.foot ?? "none",
    ...(isPlaced ? { cornersM: corners } : {}),
    ratedLoadN: 5000,
    ratedTiltDeg: 10,
    calibration: { day: "2025-03-03", note: "Invented." },
  }));
}

async function demoPlayer(library: Library, { plans, day }: DemoSession, facts: ShotFacts): Promise<Player> {
  const [plan] = plans;
  const code = plan?.player.name ?? "";
  const known = await library.players.byCode(code);
  if (known) return known;
  const player = await library.players.add({
    code,
    handed: facts.handed,
    pronoun: "they",
    massKg: facts.mass?.kg,
    consent: NOT_OF_STUDIES.includes(code) ? "report" : "study",
    consentDay: day,
    shoes: "soft spikes",
    notes: DEMO_NOTICE,
  });
  for (const outline of facts.feet) await library.players.addOutline(player.id, outline, { shoes: "soft spikes" });
  return player;
}

/** One pair of plates for all days: the corners follow the lie and the recording, the plates do not. */
async function demoLayout(library: Library, plates: readonly LaidPlate[]): Promise<string> {
  const feet = (of: readonly LaidPlate[]): string => of.map(({ plate, foot }) => `${plate} ${foot}`).join();
  const layouts = await library.layouts.list();
  const same = layouts.find((layout) => feet(layout.plates) === feet(plates));
  if (same) return same.id;
  const name = `Invented plates ${layouts.length + 1}`;
  return (await library.layouts.add({ name, plates, note: DEMO_NOTICE })).id;
}

async function demoClubs(library: Library, plans: readonly SimulatedShotPlan[]): Promise<void> {
  const names = new Set(plans.map(({ club }) => club));
  for (const { name } of await library.clubs.list()) names.delete(name);
  for (const name of names) if (name) await library.clubs.add({ name, loftDeg: Number(name.replace(/\D/g, "")) });
}

/** One session: the player, clubs and plates it needs, then shot after shot as a person would bring them in. */
async function fillSession(
  library: Library,
  clock: DemoClock,
  session: DemoSession,
  onShot: () => void,
): Promise<void> {
  const { day, note, plans } = session;
  clock.nowMs = Math.max(clock.nowMs + SHOT_APART_MS, Date.parse(`${day}T10:00:00Z`));
  await demoClubs(library, plans);
  let sessionId: string | undefined;
  for (const plan of plans) {
    const shot = simulateShot(plan);
    const fileName = `${plan.name}.c3d`;
    const { c3d, sidecar } = simulatedFiles(shot, fileName);
    if (sessionId === undefined) {
      const player = await demoPlayer(library, session, shot.facts);
      const layoutId = await demoLayout(library, laidPlates(shot.recording, shot.facts));
      const details = { playerId: player.id, layoutId, day, place: "Practice ground (invented)" };
      const opened = await library.sessions.add({ ...details, plan: planOf(session), ...(note ? { note } : {}) });
      sessionId = opened.id;
    }
    clock.nowMs += SHOT_APART_MS;
    await library.bringIn({ bytes: c3d, fileName, sidecarText: sidecar, sessionId });
    onShot();
  }
}

/**
 * The demo's library in a folder: a small study, an invented player's year and the story's shots, brought in and computed. Made on
 * first run, beside its final place, and moved there when whole; one that was stopped half way is made anew.
 *
 * @param parent  the folder it lies in
 * @returns       its folder, to be opened with `openLibrary`
 */
export async function filledDemoLibrary(parent: string): Promise<string> {
  const folder = join(parent, `demo-library-${VERSION}`);
  if (existsSync(folder)) return folder;
  process.stderr.write(`Filling the demo library (first run): ${folder}\n`);
  const unfinished = `${folder}.unfinished`;
  await rm(unfinished, { recursive: true, force: true });
  const sessions = demoSessions();
  const total = sessions.reduce((sum, { plans }) => sum + plans.length, 0);
  const clock: DemoClock = { nowMs: 0 };
  const library = await openLibrary({
    folder: unfinished,
    clock: () => clock.nowMs++,
    random: random(DEMO_SEED, "demo library"),
    who: "demo",
  });
  let done = 0;
  try {
    for (const session of sessions)
      await fillSession(library, clock, session, () => progress(++done, total, "Demo shots"));
    await library.recompute({ onProgress: (at) => progress(at.done, at.total, "Computed") });
  } finally {
    await library.close();
  }
  await writeFile(
    join(unfinished, "README.md"),
    `${DEMO_NOTICE}\nMake more, with the truth beside them: underfoot simulate --out DIR\n`,
  );
  await rename(unfinished, folder);
  return folder;
}
