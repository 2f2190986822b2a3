import { random } from "@underfoot/domain";
import {
  DEFAULT_PLATES,
  type PlateSetup,
  SIMULATED_LIES,
  type SimulatedPlayer,
  type SimulatedShotPlan,
  simulatedPlayer,
  simulatedSession,
} from "@underfoot/simulator";

/** One session of the invented player's year. */
export interface DemoSession {
  /** YYYY-MM-DD. */
  readonly day: string;
  readonly note: string;
  readonly seed: number;
  readonly plans: readonly SimulatedShotPlan[];
}

const YEAR_PLAYER = "Player C";

/** Our own story: eight sessions over eleven months, another club from the fifth on, more push to the target later. */
const YEAR: readonly { readonly day: string; readonly club: string; readonly push: number; readonly note: string }[] = [
  { day: "2025-04-15", club: "wedge 56", push: 1, note: "First session." },
  { day: "2025-05-20", club: "wedge 56", push: 1, note: "" },
  { day: "2025-06-24", club: "wedge 56", push: 1.03, note: "" },
  { day: "2025-08-05", club: "wedge 56", push: 1.08, note: "Asked since July to push earlier toward the target." },
  { day: "2025-09-16", club: "wedge 58", push: 1.14, note: "From today with the wedge 58." },
  { day: "2025-11-04", club: "wedge 58", push: 1.18, note: "" },
  { day: "2026-01-13", club: "wedge 58", push: 1.2, note: "After six weeks without practice." },
  { day: "2026-03-10", club: "wedge 58", push: 1.2, note: "" },
];

/** What is asked for: one intent, hit on the flat and up a slope. */
const INTENT = "stock";
const LIES = [SIMULATED_LIES.flat, SIMULATED_LIES.upslope] as const;
const FEWEST_SHOTS = 6;
const MISHIT_SHARE = 0.06;

const YEAR_PLATES: PlateSetup = { ...DEFAULT_PLATES, padM: 0.01 };

const pushing = (player: SimulatedPlayer, push: number): SimulatedPlayer => ({
  ...player,
  style: { ...player.style, target: player.style.target * push },
});

/** An invented player's year, the same for the same seed: six to eight shots in each condition of each session. */
export function demoYear(seed: number): readonly DemoSession[] {
  const player = simulatedPlayer({ seed: random(seed, YEAR_PLAYER).u32(), handed: "right", name: YEAR_PLAYER });
  const draw = random(seed, "demo year");
  return YEAR.map(({ day, club, push, note }) => {
    const sessionSeed = draw.u32();
    const plans = simulatedSession({
      seed: sessionSeed,
      player: pushing(player, push),
      lies: LIES,
      intents: [INTENT],
      shotsPerCondition: FEWEST_SHOTS + draw.below(3),
      mishitShare: MISHIT_SHARE,
      plates: YEAR_PLATES,
      club,
      marks: "noisy",
      hasTrigger: true,
    });
    return { day, note, seed: sessionSeed, plans: plans.map((plan) => ({ ...plan, name: `${day}-${plan.name}` })) };
  });
}
