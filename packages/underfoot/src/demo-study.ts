import { random } from "@underfoot/domain";
import {
  DEFAULT_PLATES,
  type PlateSetup,
  SIMULATED_LIES,
  simulatedPlayer,
  simulatedSession,
} from "@underfoot/simulator";
import type { DemoSession } from "./demo-year.ts";

/** Our own story: six invented players on a day each, low against high on the flat, five of each in drawn order. */
const PLAYERS: readonly { readonly code: string; readonly day: string }[] = [
  { code: "Player D", day: "2025-03-10" },
  { code: "Player E", day: "2025-03-11" },
  { code: "Player F", day: "2025-03-12" },
  { code: "Player G", day: "2025-03-17" },
  { code: "Player H", day: "2025-03-18" },
  { code: "Player I", day: "2025-03-19" },
];
const INTENTS = ["low", "high"] as const;
const SHOTS_EACH = 5;
const MISHIT_SHARE = 0.04;
const PLATES: PlateSetup = { ...DEFAULT_PLATES, padM: 0.01 };

/** A small study of invented players, the same for the same seed: a session each of the same two conditions. */
export function demoStudy(seed: number): readonly DemoSession[] {
  return PLAYERS.map(({ code, day }) => {
    const sessionSeed = random(seed, `study of ${code}`).u32();
    const plans = simulatedSession({
      seed: sessionSeed,
      player: simulatedPlayer({ seed: random(seed, code).u32(), name: code }),
      lies: [SIMULATED_LIES.flat],
      intents: INTENTS,
      shotsPerCondition: SHOTS_EACH,
      mishitShare: MISHIT_SHARE,
      plates: PLATES,
      club: "wedge 56",
      marks: "noisy",
      hasTrigger: true,
    });
    return {
      ...{ day, note: "A small study: low against high.", seed: sessionSeed },
      plans: plans.map((plan) => ({ ...plan, name: `study-${code.at(-1)?.toLowerCase()}-${plan.name}` })),
    };
  });
}
