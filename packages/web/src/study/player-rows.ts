import type { StudyMeasure, StudyPlayer } from "@underfoot/compare";
import { domainOutward, type ScaleDomain } from "@underfoot/report";

/** The players of a measure in the order they are shown, and one scale for all of them. */
export interface PlayerRows {
  readonly rows: readonly StudyPlayer[];
  readonly domain: ScaleDomain;
  /** Of the width, 0 to 1; a value outside the scale stands at its edge. */
  readonly share: (value: number) => number;
  readonly isOutside: (value: number) => boolean;
}

/** By which a player is sorted: the pulled estimate where there is one. */
const estimateOf = ({ pulled, own }: StudyPlayer): number => pulled?.value ?? own;

const known = (values: readonly (number | undefined)[]): readonly number[] =>
  values.filter((value): value is number => value !== undefined && Number.isFinite(value));

/** A scale is never narrower, in the unit of the measure: a scale of no width cannot be drawn. */
const LEAST_SPAN = 1e-3;
/** A few shots give intervals so wide that everything else would be a dot: those longer than so many times the rest are cut off. */
const WIDEST_OWN = 3;

/** Largest estimate first, players without one last; never by name, except that equal ones stay in the order they came. */
export function playerRows({ players, model }: Pick<StudyMeasure, "players" | "model">): PlayerRows {
  const rows = players.toSorted((x, y) => {
    const [one, other] = [estimateOf(x), estimateOf(y)];
    if (Number.isNaN(one) || Number.isNaN(other)) return Number(Number.isNaN(one)) - Number(Number.isNaN(other));
    return other - one;
  });
  const core = known([
    ...players.flatMap(({ own, pulled }) => [own, pulled?.low, pulled?.high]),
    ...[model?.low, model?.high],
  ]);
  const span = Math.max(...core, 0) - Math.min(...core, 0);
  const own = known(players.flatMap(({ ownLow, ownHigh }) => [ownLow, ownHigh])).filter(
    (value) => span === 0 || Math.abs(value) <= WIDEST_OWN * span,
  );
  const domain = domainOutward(Float64Array.from([...core, ...own]), [0], LEAST_SPAN);
  const width = domain.max - domain.min;
  return {
    rows,
    domain,
    share: (value) => Math.min(1, Math.max(0, (value - domain.min) / width)),
    isOutside: (value) => value < domain.min || value > domain.max,
  };
}
