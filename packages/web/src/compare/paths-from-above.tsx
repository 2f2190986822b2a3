import type { PlayerShape } from "@underfoot/protocol";
import { inMillimetres } from "@underfoot/report";
import { type ReactElement, useId, useMemo } from "react";
import { useWidth } from "../frame/use-size.ts";
import { EventGlyph } from "../shot/sheet/event-glyph.tsx";
import type { CountedShot } from "./choose/shot-counts.ts";
import type { CompareAsk } from "./compare-address.ts";
import { type DrawnComparison, drawnComparison } from "./drawn-comparison.ts";
import { type PathPoint, pathScale, pathsOf } from "./mean-paths.ts";
import { usePaths } from "./use-comparison.ts";

export interface PathsFromAboveProps {
  readonly ask: CompareAsk;
  readonly player: PlayerShape;
  readonly shots: readonly CountedShot[];
}

/** Mean paths of the pressure of both feet, seen from above: A solid, B tube. A picture beside the comparison, without a verdict. */
export function PathsFromAbove({ ask, player, shots }: PathsFromAboveProps): ReactElement {
  const title = useId();
  const { compared, fault } = usePaths(ask, shots);
  const drawn = useMemo(() => compared && drawnComparison(compared), [compared]);
  const isAheadDown = player.handed === "right";
  return (
    <figure className="from-above" aria-labelledby={title}>
      <h2 id={title}>From above</h2>
      <p className="caption">
        Where the pressure of both feet went, seen from above with the flag on the right
        {isAheadDown ? ", toes down the page" : ", toes up the page"}. A solid, B tube: means, drawn without a verdict.
      </p>
      {fault === undefined ? null : <p>{fault.message}</p>}
      {drawn === undefined ? (
        <p className="caption">Computing the paths.</p>
      ) : (
        <Picture drawn={drawn} isAheadDown={isAheadDown} />
      )}
    </figure>
  );
}

const HEIGHT_PX = 200;

function Picture({
  drawn,
  isAheadDown,
}: {
  readonly drawn: DrawnComparison;
  readonly isAheadDown: boolean;
}): ReactElement {
  const [frame, width] = useWidth();
  const paths = pathsOf(drawn);
  if (paths === undefined)
    return <p className="caption">The pressure of both feet is not known at any common instant.</p>;
  const { x, y, pxPerMm } = pathScale([...paths.a, ...paths.b], { width, height: HEIGHT_PX, isAheadDown });
  const line = (points: readonly PathPoint[]): string => {
    let path = "";
    let isDown = false;
    for (const { targetMm, aheadMm } of points) {
      const isKnown = Number.isFinite(targetMm) && Number.isFinite(aheadMm);
      if (isKnown) path += `${isDown ? "L" : "M"}${x(targetMm).toFixed(1)} ${y(aheadMm).toFixed(1)}`;
      isDown = isKnown;
    }
    return path;
  };
  const barMm = [200, 100, 50, 20, 10].find((mm) => mm * pxPerMm < width / 3) ?? 10;
  return (
    <div ref={frame}>
      {width === 0 ? null : (
        <svg className="picture" width={width} height={HEIGHT_PX} role="img" aria-label={pathWords(paths)}>
          <path d={line(paths.b)} className="side-b" />
          <path d={line(paths.b)} className="side-b-core" />
          <path d={line(paths.a)} className="side-a" />
          {paths.events.map(({ event, a, b }) =>
            (
              [
                ["A", a],
                ["B", b],
              ] as const
            ).map(([side, at]) =>
              Number.isFinite(at.targetMm + at.aheadMm) ? (
                <g key={`${event} ${side}`}>
                  <EventGlyph event={event} x={x(at.targetMm)} y={y(at.aheadMm)} isFirm />
                  {event === "impact" ? (
                    <text
                      x={x(at.targetMm)}
                      y={y(at.aheadMm) + (side === "A" ? -12 : 24)}
                      className="note strong middle"
                    >
                      {side}, impact
                    </text>
                  ) : null}
                </g>
              ) : null,
            ),
          )}
          <path d={`M12 ${HEIGHT_PX - 8}v-6m0 3h${barMm * pxPerMm}m0 -3v6`} stroke="var(--ink-2)" fill="none" />
          <text x={16 + barMm * pxPerMm} y={HEIGHT_PX - 7} className="plan-caption">
            {inMillimetres(barMm / 1000).text}
          </text>
          <text x={width - 4} y={HEIGHT_PX - 7} className="plan-caption end">
            to the target
          </text>
        </svg>
      )}
    </div>
  );
}

function pathWords({ events }: NonNullable<ReturnType<typeof pathsOf>>): string {
  const at = ({ targetMm, aheadMm }: PathPoint): string =>
    Number.isFinite(targetMm + aheadMm)
      ? `${inMillimetres(targetMm / 1000).spoken} to target, ${inMillimetres(aheadMm / 1000).spoken} ahead`
      : "not known";
  return `Mean paths of the pressure. ${events.map(({ label, a, b }) => `${label}: A ${at(a)}; B ${at(b)}`).join(". ")}`;
}
