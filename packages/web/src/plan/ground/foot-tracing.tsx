import type { Foot, FootOutlineFact, Handed, TurfPoint } from "@underfoot/domain";
import type { PlayerShape } from "@underfoot/protocol";
import { inMillimetres } from "@underfoot/report";
import { type KeyboardEvent, type PointerEvent, type ReactElement, useState } from "react";
import { call } from "../../api/call.ts";
import { useWidth } from "../../frame/use-size.ts";
import type { PlanLie } from "../order/plan-grid.ts";
import type { Keeping } from "../session/use-keeping.ts";
import {
  FOOT_POINT_WORDS,
  FOOT_POINTS,
  type FootPointName,
  type FootPoints,
  footPointsFromSole,
  movedPoint,
  outlineThrough,
  usualFootPoints,
} from "./foot-points.ts";
import { type GroundPlan, type GroundPlate, type GroundSole, groundSole } from "./ground-plan.ts";
import { GroundLayer, type GroundScale, groundScale, SoleShape } from "./plates-picture.tsx";

export interface FootTracingProps {
  readonly player: PlayerShape;
  readonly foot: Foot;
  readonly plate: GroundPlate;
  readonly ground: GroundPlan;
  /** What was traced before, in these shoes. */
  readonly sole: GroundSole | undefined;
  readonly lie: PlanLie | undefined;
  readonly keeping: Keeping;
  readonly onKept: () => void;
}

const STEP_M = 0.002;
const LONG_STEP_M = 0.01;

/** A foot's outline moved into place by five points, with the pointer or with the arrow keys. */
export function FootTracing(props: FootTracingProps): ReactElement {
  const { player, foot, plate, ground, sole, keeping, onKept } = props;
  const [points, setPoints] = useState<FootPoints>(
    () => (sole === undefined ? undefined : footPointsFromSole(sole)) ?? usualFootPoints(foot, plate),
  );
  const [ref, widthPx] = useWidth();
  const outline = outlineThrough(points, foot, { plate, ground });
  const keep = async (said: FootOutlineFact): Promise<void> => {
    const json = { outline: plainOutline(said), ...(player.shoes === undefined ? {} : { shoes: player.shoes }) };
    const kept = await keeping.deed.run(() =>
      call("post /api/players/{id}/outlines", { params: { id: player.id }, json }),
    );
    if (kept !== undefined) onKept();
  };
  const shoes = player.shoes === undefined ? "no shoes named" : player.shoes;
  return (
    <div className="tracing" data-foot={foot}>
      <p className="small">
        Drag the five points to the edge of the {foot} shoe, or press Tab to reach a point and move it by 2 mm with an
        arrow key, by 10 mm with Shift. Kept for: {shoes}.
      </p>
      <div ref={ref} className="tracing-ground">
        {widthPx < 100 ? null : <TracingPicture {...props} {...{ points, setPoints, outline, widthPx }} />}
      </div>
      {typeof outline === "string" ? (
        <p role="alert">{outline}</p>
      ) : (
        <p className="small">{sizeText(groundSole(outline, ground))}</p>
      )}
      <div className="deeds">
        <button
          type="button"
          className="btn main"
          disabled={typeof outline === "string" || keeping.deed.isBusy}
          onClick={() => typeof outline !== "string" && void keep(outline)}
        >
          Keep the {foot} foot
        </button>
        <button type="button" className="btn" onClick={() => setPoints(usualFootPoints(foot, plate))}>
          Start over
        </button>
      </div>
    </div>
  );
}

/** An outline as it goes over the line. */
export function plainOutline({ foot, frame, outline, heel, toe }: FootOutlineFact) {
  return {
    foot,
    frame,
    outline: outline.map((point) => ({ ...point })),
    ...(heel === undefined ? {} : { heel: { ...heel } }),
    ...(toe === undefined ? {} : { toe: { ...toe } }),
  };
}

function sizeText(sole: GroundSole | undefined): string {
  if (sole?.heel === undefined || sole.toe === undefined) return "";
  const lengthM = Math.hypot(sole.toe.targetM - sole.heel.targetM, sole.toe.aheadM - sole.heel.aheadM);
  return `${inMillimetres(lengthM).text} from heel to toe.`;
}

interface TracingPictureProps extends FootTracingProps {
  readonly points: FootPoints;
  readonly setPoints: (make: (points: FootPoints) => FootPoints) => void;
  readonly outline: FootOutlineFact | string;
  readonly widthPx: number;
}

function TracingPicture(props: TracingPictureProps): ReactElement {
  const { player, foot, plate, ground, lie, points, setPoints, outline, widthPx } = props;
  const only = { ...ground, plates: [plate] };
  const scale = groundScale(plate.outline, player.handed, widthPx);
  const shown = typeof outline === "string" ? undefined : groundSole(outline, ground);
  return (
    <>
      <svg width={widthPx} height={scale.heightPx} aria-hidden="true">
        <GroundLayer ground={only} lie={lie} handed={player.handed} scale={scale} widthPx={widthPx} />
        {shown === undefined ? null : <SoleShape foot={foot} outline={shown.outline} scale={scale} isTraced />}
      </svg>
      {FOOT_POINTS.map((name) => (
        <PointHandle
          key={name}
          name={name}
          foot={foot}
          handed={player.handed}
          scale={scale}
          at={points[name]}
          onMove={(by) => setPoints((before) => movedPoint(before, name, by))}
        />
      ))}
    </>
  );
}

interface PointHandleProps {
  readonly name: FootPointName;
  readonly foot: Foot;
  readonly handed: Handed;
  readonly scale: GroundScale;
  readonly at: TurfPoint;
  readonly onMove: (by: TurfPoint) => void;
}

/** Screen directions of the arrow keys: right is always toward the target. */
const ARROWS: Readonly<Record<string, readonly [right: number, down: number]>> = {
  ArrowRight: [1, 0],
  ArrowLeft: [-1, 0],
  ArrowUp: [0, -1],
  ArrowDown: [0, 1],
};

function PointHandle({ name, foot, handed, scale, at, onMove }: PointHandleProps): ReactElement {
  const down = handed === "right" ? 1 : -1;
  const onKeyDown = (event: KeyboardEvent): void => {
    const arrow = ARROWS[event.key];
    if (arrow === undefined) return;
    event.preventDefault();
    const stepM = event.shiftKey ? LONG_STEP_M : STEP_M;
    onMove({ targetM: arrow[0] * stepM, aheadM: down * arrow[1] * stepM });
  };
  const onPointerMove = (event: PointerEvent): void => {
    if (!event.currentTarget.hasPointerCapture(event.pointerId)) return;
    onMove({ targetM: event.movementX / scale.pxPerM, aheadM: (down * event.movementY) / scale.pxPerM });
  };
  return (
    <button
      type="button"
      className="point-handle"
      data-point={name}
      style={{ left: scale.xTarget(at.targetM), top: scale.yAhead(at.aheadM) }}
      aria-label={`${foot} foot, ${FOOT_POINT_WORDS[name]}: ${placeText(at)}`}
      onKeyDown={onKeyDown}
      onPointerDown={(event) => event.currentTarget.setPointerCapture(event.pointerId)}
      onPointerMove={onPointerMove}
    />
  );
}

function placeText({ targetM, aheadM }: TurfPoint): string {
  const target = `${inMillimetres(Math.abs(targetM)).text} ${targetM < 0 ? "away from" : "toward"} the target`;
  return `${target}, ${inMillimetres(Math.abs(aheadM)).text} ${aheadM < 0 ? "back" : "ahead"}`;
}
