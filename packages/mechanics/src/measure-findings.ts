import type { Finding } from "@underfoot/domain";
import type { Measure, Shot } from "./shot.ts";

/** Outside the outline is said only when the margin is below this many sigmas. */
const OUTSIDE_SIGMAS = -2;

/** What has to be said because of a shot's measures: footing, pressure outside the shoe, peaks cut off by a plate's range. */
export function findingsFromMeasures(shot: Shot, measures: readonly Measure[]): Finding[] {
  return [...frictionFindings(shot, measures), ...outsideFindings(measures), ...cutOffFindings(measures)];
}

function frictionFindings({ settings }: Shot, measures: readonly Measure[]): Finding[] {
  const findings: Finding[] = [];
  for (const foot of ["lead", "trail"] as const) {
    const friction = measures.find(({ id, isValid }) => isValid && id === `${foot}.friction.peak`);
    if (friction === undefined || friction.value < settings.frictionCaution) continue;
    const isStrong = friction.value >= settings.frictionStrongCaution;
    const limit = isStrong ? settings.frictionStrongCaution : settings.frictionCaution;
    findings.push({
      code: isStrong ? "friction-very-high" : "friction-high",
      severity: "caution",
      sentence: `The ${foot} foot asked the footing for a friction of ${friction.value.toFixed(2)} (± ${friction.sigma.toFixed(2)}); from ${limit.toFixed(1)} on ${isStrong ? "a slip is likely on many surfaces" : "a slip becomes possible"}.`,
      remedy: isStrong
        ? "Stop and check the footing before the next shot: shoes, turf or mat, water, and how the plates are secured."
        : "Check the footing: shoes, turf or mat, water, and how the plates are secured.",
      where: {},
    });
  }
  return findings;
}

function outsideFindings(measures: readonly Measure[]): Finding[] {
  return measures
    .filter(
      ({ id, isValid, value, sigma }) => isValid && id.startsWith("lead.margin.at.") && value < OUTSIDE_SIGMAS * sigma,
    )
    .map(({ id, value, sigma }) => {
      const event = id.slice("lead.margin.at.".length);
      return {
        code: "outside",
        severity: "caution" as const,
        sentence: `At ${event} the centre of pressure lies ${(-value).toFixed(0)} mm (± ${sigma.toFixed(0)} mm) outside the traced lead foot.`,
        remedy: "Trace the foot again if it moved; otherwise check where the plates lie and their calibration.",
        where: { event },
      };
    });
}

function cutOffFindings(measures: readonly Measure[]): Finding[] {
  const ids = [...new Set(measures.filter(({ isAtLeast }) => isAtLeast === true).map(({ id }) => id))];
  if (ids.length === 0) return [];
  return [
    {
      code: "peak-at-least",
      severity: "caution",
      sentence: `A plate was at the end of its range at ${ids.length === 1 ? "this peak" : "these peaks"}, which read "at least": ${ids.join(", ")}.`,
      remedy: "Use a wider range of the plate or amplifier; keep within the rated load.",
    },
  ];
}
