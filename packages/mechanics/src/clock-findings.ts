import type { Finding } from "@underfoot/domain";

/** Everything that is said about the clocks of two plates. */
export const clockFindings = {
  rate: (errorPpm: number, limitPpm: number): Finding => ({
    code: "clock-rate",
    severity: "caution",
    sentence: `The plate's clock runs ${Math.abs(errorPpm).toFixed(0)} millionths too ${errorPpm > 0 ? "fast" : "slow"} against this computer (limit ${limitPpm}).`,
    remedy: "Check the ticks per second that the plate announces; if they are right, have its clock looked at.",
  }),
  disagree: (check: "tap" | "rocking", lagMs: number, sigmaMs: number): Finding => ({
    code: "clocks-disagree",
    severity: "caution",
    sentence: `In the ${check} check the trail plate's time is ${Math.abs(lagMs).toFixed(1)} ms ${lagMs > 0 ? "late" : "early"} against the lead plate's; the clocks are said to agree within ${sigmaMs.toFixed(1)} ms.`,
    remedy: "Repeat the tap with a board across both plates; if it stays, start both streams again.",
  }),
  noTap: (): Finding => ({
    code: "no-tap",
    severity: "note",
    sentence: "No tap was felt by both plates.",
    remedy: "Lay a stiff board across both plates, strike it once in the middle, and check again.",
  }),
  noRocking: (): Finding => ({
    code: "no-rocking",
    severity: "note",
    sentence: "The load did not move from foot to foot regularly enough to compare the clocks.",
    remedy: "Rock from foot to foot about once in two seconds, for 8 seconds.",
  }),
} as const;
