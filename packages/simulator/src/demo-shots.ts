import { type Handed, INTENTS, type Intent, random } from "@underfoot/domain";
import type { FaultName } from "./injected-faults.ts";
import { SIMULATED_LIES, type SimulatedLie } from "./lie-axes.ts";
import { DEFAULT_PLATES, type PlateSetup, usualOriginM } from "./plate-setup.ts";
import { type SimulatedPlayer, simulatedPlayer } from "./player.ts";
import type { SimulatedShotPlan } from "./simulated-session.ts";

/** What the demo says about itself wherever it is shown. */
export const DEMO_NOTICE =
  "Invented: players, shots and results of the demo come from the simulator. No person was measured.";

interface DemoShot {
  readonly player: "right" | "left";
  readonly intent: Intent;
  readonly lie: SimulatedLie;
  readonly isMishit?: boolean;
  readonly faults?: readonly FaultName[];
  readonly marks?: "noisy" | "none";
  readonly hasTrigger?: boolean;
  readonly hasSound?: boolean;
}

const { flat, upslope, downslope, ballAbove } = SIMULATED_LIES;

/** The story: a right-hander's session on four lies, then a left-hander's; two mishits, a gap, shots without marks. */
const STORY: readonly DemoShot[] = [
  ...INTENTS.map((intent): DemoShot => ({ player: "right", intent, lie: flat, hasTrigger: true })),
  { player: "right", intent: "stock", lie: flat, isMishit: true, hasTrigger: true },
  ...INTENTS.map((intent): DemoShot => ({ player: "right", intent, lie: upslope, hasSound: true })),
  { player: "right", intent: "low", lie: downslope, hasTrigger: true },
  { player: "right", intent: "stock", lie: downslope, hasTrigger: true },
  { player: "right", intent: "high", lie: downslope, isMishit: true, hasTrigger: true },
  { player: "right", intent: "stock", lie: ballAbove, hasTrigger: true },
  { player: "right", intent: "shallow", lie: ballAbove, marks: "none", hasTrigger: true },
  { player: "left", intent: "stock", lie: flat, hasSound: true },
  { player: "left", intent: "low", lie: flat, hasSound: true },
  { player: "left", intent: "high", lie: flat, marks: "none" },
  { player: "left", intent: "stock", lie: upslope, hasSound: true },
  { player: "left", intent: "high", lie: upslope, faults: ["gap"], hasSound: true },
  { player: "left", intent: "low", lie: downslope, hasSound: true },
  { player: "left", intent: "steep", lie: downslope, hasSound: true },
  { player: "left", intent: "stock", lie: ballAbove, hasSound: true },
];

function demoPlayer(seed: number, handed: Handed): SimulatedPlayer {
  const name = handed === "right" ? "Player A" : "Player B";
  return simulatedPlayer({ seed: random(seed, name).u32(), handed, name });
}

/** The right-hander stands on plates of type 2; the left-hander on type 3 and 4, laid the other way about. */
function demoPlates(handed: Handed): PlateSetup {
  if (handed === "right") return { ...DEFAULT_PLATES, lab: { ...DEFAULT_PLATES.lab, targetTurnDeg: 90 } };
  return {
    ...DEFAULT_PLATES,
    lead: { type: 3, yawDeg: -90, sense: "on-plate", originM: usualOriginM(3) },
    trail: { type: 4, yawDeg: 90, sense: "on-plate", originM: usualOriginM(4) },
    padM: 0.01,
    first: "trail",
    lab: { ...DEFAULT_PLATES.lab, targetTurnDeg: -35 },
  };
}

/**
 * The demo library's shots, to be simulated one by one: our own invented scenario, the same for the same seed.
 * Player A (right-handed) and Player B (left-handed), five intents, four lies, 1000 Hz, 6 s each.
 */
export function demoShots({ seed = 1 }: { readonly seed?: number } = {}): SimulatedShotPlan[] {
  const players = { right: demoPlayer(seed, "right"), left: demoPlayer(seed, "left") };
  const draw = random(seed, "demo");
  return STORY.map(({ player, intent, lie, marks = "noisy", ...rest }, k) => ({
    ...rest,
    name: `demo-${String(k + 1).padStart(2, "0")}-${player}-${lie.name.replaceAll(" ", "-")}-${intent}`,
    seed: draw.u32(),
    sessionSeed: random(seed, `session of the ${player}-handed player`).u32(),
    player: players[player],
    intent,
    lie,
    marks,
    plates: demoPlates(player),
    club: intent === "low" ? "wedge 50" : "wedge 56",
  }));
}
