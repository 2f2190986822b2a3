import type { ShotAgainstUsual } from "@underfoot/compare";
import type { FootPoint, SoleView } from "@underfoot/report";

/** Where the pressure at delivery is expected in one more shot, in the sole's own axes, m. */
export interface UsualSpot {
  readonly alongM: number;
  readonly acrossM: number;
  readonly halfAlongM: number;
  readonly halfAcrossM: number;
}

/** Measured across the foot no nearer to its ends than this (mechanics, foot coordinates). */
const END_SHARE = 0.1;

/** Inner and outer edge of an outline at a station from the heel, m; NaN where it has none there. */
function edgesAt(outline: readonly FootPoint[], stationM: number): readonly [number, number] {
  const across = outline.flatMap((point, k) => {
    const next = outline[(k + 1) % outline.length] ?? point;
    const [from, to] = [point.alongM - stationM, next.alongM - stationM];
    if (from > 0 === to > 0) return [];
    return [point.acrossM + ((next.acrossM - point.acrossM) * from) / (from - to)];
  });
  return across.length === 0 ? [Number.NaN, Number.NaN] : [Math.min(...across), Math.max(...across)];
}

/** The usual spot on the lead sole at delivery; undefined without a band of both coordinates or without a traced sole. */
export function usualSpot({ measures }: Pick<ShotAgainstUsual, "measures">, sole: SoleView): UsualSpot | undefined {
  const bandOf = (id: string) => measures.find(({ measure }) => measure === id)?.band;
  const [along, across] = [bandOf("lead.heelToe.at.delivery"), bandOf("lead.innerOuter.at.delivery")];
  if (sole.kind !== "traced" || along === undefined || across === undefined) return undefined;
  if (along.kind === "withheld" || across.kind === "withheld") return undefined;
  const alongM = (along.mean / 100) * sole.lengthM;
  const stationM = Math.min(1 - END_SHARE, Math.max(END_SHARE, along.mean / 100)) * sole.lengthM;
  const [innerM, outerM] = edgesAt(sole.outline, stationM);
  if (Number.isNaN(innerM)) return undefined;
  const widthM = outerM - innerM;
  return {
    alongM,
    acrossM: innerM + (across.mean / 100) * widthM,
    halfAlongM: ((along.high - along.low) / 200) * sole.lengthM,
    halfAcrossM: ((across.high - across.low) / 200) * widthM,
  };
}
