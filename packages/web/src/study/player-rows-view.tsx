import type { StudyMeasure, StudyPlayer } from "@underfoot/compare";
import { differenceText } from "@underfoot/report";
import { type ReactElement, useId } from "react";
import { scaleTicks } from "../compare/pairs/pair-layout.ts";
import { type PlayerRows, playerRows } from "./player-rows.ts";

export interface PlayerRowsViewProps {
  readonly row: StudyMeasure;
  /** "high minus low" */
  readonly difference: string;
  /** The player whose curve is to stand out. */
  readonly pointed: string | undefined;
  readonly onPointed: (player: string | undefined) => void;
  /** The sentence of the measure, for those who do not see the picture. */
  readonly sentence: string;
}

/** Height of a row, and where in it the own and the pulled estimate stand, px. */
const ROW_PX = 46;
const OWN_PX = 15;
const PULLED_PX = 31;

const percent = (share: number): string => `${(100 * share).toFixed(2)}%`;

/** A row a player, sorted by estimate: own hollow, pulled toward the group filled, a line between them. */
export function PlayerRowsView({ row, difference, pointed, onPointed, sentence }: PlayerRowsViewProps): ReactElement {
  const title = useId();
  const scale = playerRows(row);
  const isPulled = row.players.some(({ pulled }) => pulled !== undefined);
  return (
    <figure className="study-players" aria-labelledby={title}>
      <h2 id={title}>Player by player, {difference}</h2>
      <p className="caption">
        {isPulled
          ? "Hollow: the player’s own means. Filled: pulled toward the group, as far as few shots leave it open. Lines: 0.95 intervals. Highest first."
          : "Hollow: the player’s own means with 0.95 intervals. Highest first. Nothing is pulled toward a group here."}
      </p>
      <ScaleHead scale={scale} unit={row.unit} />
      {row.model === undefined ? null : <GroupRow model={row.model} unit={row.unit} scale={scale} />}
      <ol aria-label={`Players by their estimate. ${sentence}`}>
        {scale.rows.map((player) => (
          <li key={player.player} data-player={player.player}>
            <button
              type="button"
              aria-pressed={pointed === player.player}
              onClick={() => onPointed(pointed === player.player ? undefined : player.player)}
            >
              {player.player}
              <small>
                {player.n[0]} and {player.n[1]} shots
              </small>
            </button>
            <PlayerMark player={player} scale={scale} model={row.model} />
            <PlayerNumbers player={player} unit={row.unit} />
          </li>
        ))}
      </ol>
    </figure>
  );
}

/** Numbers of the scale keep this far apart on the narrowest picture, px. */
const SCALE_PX = 240;
const TICK_APART_PX = 56;

function ScaleHead({ scale, unit }: { readonly scale: PlayerRows; readonly unit: string }): ReactElement {
  const ticks = scaleTicks(scale.domain, SCALE_PX, TICK_APART_PX);
  const step = Math.abs((ticks[1] ?? 0) - (ticks[0] ?? 0));
  return (
    <div className="study-scale" aria-hidden="true">
      <span>{differenceText(2, unit).unit}</span>
      <div>
        {ticks.map((tick) => (
          <span key={tick} style={{ left: percent(scale.share(tick)) }}>
            {differenceText(tick, unit, step / 2).number}
          </span>
        ))}
      </div>
    </div>
  );
}

type Model = NonNullable<StudyMeasure["model"]>;

function GroupRow({
  model,
  unit,
  scale,
}: {
  readonly model: Model;
  readonly unit: string;
  readonly scale: PlayerRows;
}): ReactElement {
  const at = (value: number): string => percent(scale.share(value));
  const half = (model.high - model.low) / 2;
  return (
    <div className="study-group">
      <b>Group</b>
      <svg height={ROW_PX} aria-hidden="true">
        <Ground scale={scale} model={model} />
        <line x1={at(model.low)} x2={at(model.high)} y1={ROW_PX / 2} y2={ROW_PX / 2} className="study-heavy" />
        <circle cx={at(model.value)} cy={ROW_PX / 2} r="7" className="study-filled" />
      </svg>
      <span className="study-numbers">
        <b>{signed(model.value, unit, half)}</b>
        <small>{interval(model, unit, half)}</small>
      </span>
    </div>
  );
}

/** The zero line, and behind it the group's interval. */
function Ground({ scale, model }: { readonly scale: PlayerRows; readonly model: Model | undefined }): ReactElement {
  const at = (value: number): string => percent(scale.share(value));
  return (
    <>
      {model === undefined ? null : (
        <rect
          className="study-band"
          x={at(model.low)}
          width={percent(scale.share(model.high) - scale.share(model.low))}
          y={0}
          height={ROW_PX}
        />
      )}
      <line x1={at(0)} x2={at(0)} y1={0} y2={ROW_PX} stroke="var(--edge)" />
    </>
  );
}

interface PlayerMarkProps {
  readonly player: StudyPlayer;
  readonly scale: PlayerRows;
  readonly model: Model | undefined;
}

function PlayerMark({ player, scale, model }: PlayerMarkProps): ReactElement {
  const { own, ownLow, ownHigh, pulled } = player;
  const at = (value: number): string => percent(scale.share(value));
  const ownPx = pulled === undefined ? ROW_PX / 2 : OWN_PX;
  return (
    <svg height={ROW_PX} aria-hidden="true">
      <Ground scale={scale} model={model} />
      {Number.isNaN(own) ? null : (
        <>
          {Number.isNaN(ownLow) ? null : (
            <line x1={at(ownLow)} x2={at(ownHigh)} y1={ownPx} y2={ownPx} className="study-thin" />
          )}
          {[ownLow, ownHigh].filter(scale.isOutside).map((end) => (
            <svg key={end} x={at(end)} y={ownPx} aria-hidden="true">
              <path d={end < 0 ? "M6-5L0 0L6 5" : "M-6-5L0 0L-6 5"} className="study-open-end" />
            </svg>
          ))}
          {pulled === undefined ? null : (
            <line x1={at(own)} x2={at(pulled.value)} y1={ownPx} y2={PULLED_PX} className="study-thin" />
          )}
          <circle cx={at(own)} cy={ownPx} r="5" className="study-hollow" />
        </>
      )}
      {pulled === undefined ? null : (
        <>
          <line x1={at(pulled.low)} x2={at(pulled.high)} y1={PULLED_PX} y2={PULLED_PX} className="study-line" />
          <circle cx={at(pulled.value)} cy={PULLED_PX} r="5" className="study-filled" />
        </>
      )}
    </svg>
  );
}

function PlayerNumbers({ player, unit }: { readonly player: StudyPlayer; readonly unit: string }): ReactElement {
  const { own, ownLow, ownHigh, pulled } = player;
  if (Number.isNaN(own) && pulled === undefined) return <span className="study-numbers quiet">one condition only</span>;
  const ownHalf = (ownHigh - ownLow) / 2;
  const ownText = signed(own, unit, ownHalf);
  if (pulled === undefined)
    return (
      <span className="study-numbers">
        <b>{ownText}</b>
        <small>{Number.isNaN(ownLow) ? "no interval" : interval({ low: ownLow, high: ownHigh }, unit, ownHalf)}</small>
      </span>
    );
  const half = (pulled.high - pulled.low) / 2;
  return (
    <span className="study-numbers">
      <b>{signed(pulled.value, unit, half)}</b>
      <small>{Number.isNaN(own) ? "none of one’s own" : `own ${ownText}`}</small>
    </span>
  );
}

function signed(value: number, unit: string, half: number): string {
  const { text } = differenceText(value, unit, Number.isFinite(half) ? half : undefined);
  return value > 0 ? `+${text}` : text;
}

function interval({ low, high }: { readonly low: number; readonly high: number }, unit: string, half: number): string {
  return `${differenceText(low, unit, half).number} to ${differenceText(high, unit, half).text}`;
}
