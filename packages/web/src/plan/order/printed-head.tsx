import type { PlayerShape, SessionShape } from "@underfoot/protocol";
import { dayText, lieText } from "@underfoot/report";
import type { ReactElement } from "react";
import { entryOf } from "./asked-list.tsx";
import type { SessionPlanShape } from "./plan-grid.ts";

interface PrintedHeadProps {
  readonly session: SessionShape;
  readonly player: PlayerShape | undefined;
  readonly plan: SessionPlanShape;
}

const ORDER_WORDS: Readonly<Record<SessionPlanShape["order"], string>> = {
  blocked: "in blocks",
  balanced: "balanced",
  split: "by lies",
  "as-given": "as given",
};

/** What stands above the printed list: who, when, the lies with their angles, what is asked. Never seen on a screen. */
export function PrintedHead({ session, player, plan }: PrintedHeadProps): ReactElement {
  const clubs = [...new Set(plan.drawn.flatMap(({ club }) => club ?? []))];
  return (
    <div className="printed-head">
      <h2>
        {player?.code ?? "Player"}, {dayText(session.day)}
        {session.place === undefined ? "" : `, ${session.place}`}
      </h2>
      <p>
        {plan.drawn.length} shots, {ORDER_WORDS[plan.order]}, seed {plan.seed}
        {clubs.length === 0 ? "" : `, club ${clubs.join(", ")}`}.
      </p>
      {plan.lies.map((lie) => (
        <p key={lie.name}>
          {lie.name}
          {lieText(lie) === lie.name ? "" : `: ${lieText(lie)}`}.
        </p>
      ))}
      {plan.asked.map((asked) => (
        <p key={JSON.stringify(asked)}>{askedText(asked)}</p>
      ))}
    </div>
  );
}

/** "Asked of low: lead foot load share at delivery, at least 80 %." */
function askedText({ measure, intent, least, most }: SessionPlanShape["asked"][number]): string {
  const { title, unit } = entryOf(measure);
  const withUnit = (value: number): string => `${value}${unit === "1" ? "" : ` ${unit}`}`;
  const range = [
    ...(least === undefined ? [] : [`at least ${withUnit(least)}`]),
    ...(most === undefined ? [] : [`at most ${withUnit(most)}`]),
  ];
  return `Asked of ${intent ?? "every shot"}: ${[title.charAt(0).toLowerCase() + title.slice(1), ...range].join(", ")}.`;
}
