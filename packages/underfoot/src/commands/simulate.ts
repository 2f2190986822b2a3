import { type FileHandle, mkdir, open, readdir, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { INTENTS, random, UnderfootError } from "@underfoot/domain";
import { simulatedFiles } from "@underfoot/pipeline";
import {
  DEFAULT_PLATES,
  FAULT_NAMES,
  FAULTS,
  type FaultName,
  faultName,
  randomPlates,
  type ShotOptions,
  SIMULATED_LIES,
  type SimulatedLie,
  simulatedPlayer,
  simulateShot,
  truthJson,
} from "@underfoot/simulator";
import { type Call, type Command, wholeNumber } from "../command.ts";
import { print, progress } from "../output.ts";
import { UsageFault } from "../usage-fault.ts";

const LIE_WORDS: Readonly<Record<string, SimulatedLie>> = {
  flat: SIMULATED_LIES.flat,
  upslope: SIMULATED_LIES.upslope,
  downslope: SIMULATED_LIES.downslope,
  "ball-above": SIMULATED_LIES.ballAbove,
  "ball-below": SIMULATED_LIES.ballBelow,
};

const HELP = `underfoot simulate --out DIR [--seed N] [--shots N] [--players N] [--lies LIST] [--faults LIST]

Invented shots that obey Newton's laws, as recordings (C3D) with sidecars, and truth.json: what really happened in
each, without any sensor error. The same seed gives the same bytes. No person was measured.

  --out DIR       an empty or new folder
  --seed N        default 1
  --shots N       how many in all, default 20: every intent (${INTENTS.join(", ")}) on every lie in turn
  --players N     how many invented players, default 1; every second one is left-handed
  --lies LIST     of ${Object.keys(LIE_WORDS).join(", ")}, or PITCH/ROLL in degrees as 4/-2; default flat,upslope,downslope,ball-above
  --faults LIST   put into every shot, of:
${FAULT_NAMES.map((name) => `                    ${name.padEnd(10)} ${FAULTS[name]}`).join("\n")}

  underfoot simulate --out shots --shots 40 --players 2 --lies flat,5/0 --faults gap
`;

function lieOf(word: string): SimulatedLie {
  const known = LIE_WORDS[word];
  if (known) return known;
  const angles = /^(-?\d+(?:\.\d+)?)\/(-?\d+(?:\.\d+)?)$/.exec(word);
  if (!angles)
    throw new UsageFault(
      `--lies has "${word}"; use ${Object.keys(LIE_WORDS).join(", ")}, or PITCH/ROLL in degrees as 4/-2.`,
    );
  return { name: `pitch ${angles[1]}, roll ${angles[2]}`, pitchDeg: Number(angles[1]), rollDeg: Number(angles[2]) };
}

function listOf(call: Call, option: string, fallback: string): string[] {
  return (call.values[option] ?? fallback)
    .split(",")
    .map((word) => word.trim())
    .filter((word) => word !== "");
}

function faultsOf(call: Call): FaultName[] {
  try {
    return listOf(call, "faults", "").map(faultName);
  } catch (fault) {
    if (!(fault instanceof UnderfootError)) throw fault;
    throw new UsageFault(`${fault.message} ${fault.remedy}`, { cause: fault });
  }
}

interface NamedShot {
  readonly name: string;
  readonly options: ShotOptions;
}

function shotsOf(call: Call): NamedShot[] {
  const seed = wholeNumber(call, "seed", { least: 0, most: Number.MAX_SAFE_INTEGER, fallback: 1 });
  const count = wholeNumber(call, "shots", { least: 1, most: 1_000_000, fallback: 20 });
  const playerCount = wholeNumber(call, "players", { least: 1, most: 10_000, fallback: 1 });
  const lies = listOf(call, "lies", "flat,upslope,downslope,ball-above").map(lieOf);
  if (lies.length === 0) throw new UsageFault("--lies is empty; name at least one lie.");
  const faults = faultsOf(call);
  const draw = random(seed, "simulate");
  const players = Array.from({ length: playerCount }, (_, k) => ({
    player: simulatedPlayer({ seed: draw.u32(), handed: k % 2 === 0 ? "right" : "left", name: `Player ${k + 1}` }),
    sessionSeed: draw.u32(),
    plates: k === 0 ? DEFAULT_PLATES : randomPlates(draw.u32()),
  }));
  const width = String(count).length;
  return Array.from({ length: count }, (_, k) => {
    const turn = Math.floor(k / playerCount);
    const options: ShotOptions = {
      ...players[k % playerCount]!,
      seed: draw.u32(),
      lie: lies[turn % lies.length]!,
      intent: INTENTS[Math.floor(turn / lies.length) % INTENTS.length]!,
      marks: "noisy",
      hasTrigger: true,
      faults,
    };
    return { name: `shot-${String(k + 1).padStart(Math.max(3, width), "0")}`, options };
  });
}

async function emptyFolder(path: string): Promise<void> {
  await mkdir(path, { recursive: true });
  if ((await readdir(path)).length > 0) {
    throw new UnderfootError({
      code: "folder-not-empty",
      sentence: `The folder ${path} is not empty, and nothing in it is written over.`,
      remedy: "Name a new folder.",
      where: { file: path },
    });
  }
}

async function writeShots(shots: readonly NamedShot[], out: string, truth: FileHandle): Promise<void> {
  await truth.write(
    '{"underfoot": "truths", "version": 1, "about": "Invented players and shots; no sensor error is in these numbers.", "shots": [\n',
  );
  for (const [k, { name, options }] of shots.entries()) {
    const shot = simulateShot(options);
    const { c3d, sidecar } = simulatedFiles(shot, `${name}.c3d`);
    await writeFile(join(out, `${name}.c3d`), c3d);
    await writeFile(join(out, `${name}.shot.json`), sidecar);
    await truth.write(`${k > 0 ? ",\n" : ""}{"file": "${name}.c3d", "truth": ${truthJson(shot.truth).trim()}}`);
    progress(k + 1, shots.length, "Simulated");
  }
  await truth.write("\n]}\n");
}

async function run(call: Call): Promise<number> {
  const out = call.values["out"];
  if (!out) throw new UsageFault('Say where to write: --out DIR. See "underfoot simulate --help".');
  if (call.files.length > 0) throw new UsageFault(`simulate takes no files, and "${call.files[0]}" was given.`);
  const shots = shotsOf(call);
  try {
    await emptyFolder(out);
    const truth = await open(join(out, "truth.json"), "wx");
    await writeShots(shots, out, truth).finally(() => truth.close());
  } catch (fault) {
    if (!(fault instanceof UnderfootError)) throw fault;
    process.stderr.write(`${fault.message} ${fault.remedy}\n`);
    return 1;
  }
  await print(`${shots.length} invented shots in ${out}, with truth.json beside them.\n`);
  return 0;
}

export const simulate: Command = {
  name: "simulate",
  summary: "invented shots with the truth beside them",
  help: HELP,
  options: {
    out: { type: "string" },
    seed: { type: "string" },
    shots: { type: "string" },
    players: { type: "string" },
    lies: { type: "string" },
    faults: { type: "string" },
  },
  run,
};
