import { UnderfootError } from "@underfoot/domain";
import { type PlanSize, planSize } from "@underfoot/pipeline";
import { type ReactElement, useMemo, useState } from "react";
import { useAnswer } from "../../api/use-answer.ts";
import { FaultNote } from "../../frame/fault-note.tsx";
import { useWidth } from "../../frame/use-size.ts";
import { MeasureChoice } from "../../player/measure-choice.tsx";
import { ChoiceField, NumberField } from "../fields.tsx";
import { entryOf, FIRST_MEASURE } from "./asked-list.tsx";
import { earlierConditions } from "./earlier-values.ts";
import { type SessionPlanShape, withCountOfEach } from "./plan-grid.ts";
import { ReachPicture } from "./reach-picture.tsx";

export interface ShotsNeededProps {
  readonly sessionId: string;
  readonly playerId: string;
  readonly plan: SessionPlanShape;
  readonly onPlan: (make: (plan: SessionPlanShape) => SessionPlanShape) => void;
}

const ALL = "all";

/** How many shots show a difference that would matter, from this player's own scatter. */
export function ShotsNeeded({ sessionId, playerId, plan, onPlan }: ShotsNeededProps): ReactElement {
  const [asked, setAsked] = useState<{ id: string; axes: "turf" | "level" | undefined }>({
    id: plan.asked[0]?.measure ?? FIRST_MEASURE,
    axes: plan.asked[0]?.axes,
  });
  const [difference, setDifference] = useState<number>();
  const [from, setFrom] = useState(ALL);
  const entry = entryOf(asked.id);
  const axes = asked.axes ?? entry.axes[0];
  const points = useAnswer(
    "get /api/measures",
    { query: { measure: entry.id, playerId, ...(axes === undefined ? {} : { axes }) } },
    ["result", "shot"],
  );
  const unit = entry.unit === "1" ? "" : entry.unit;
  const earlier = useMemo(() => earlierConditions(points.answer ?? [], sessionId), [points.answer, sessionId]);
  const size = useMemo(() => {
    const chosen = earlier.filter(({ key }) => from === ALL || key === from);
    return difference === undefined
      ? undefined
      : sizeOf(
          chosen.map(({ values }) => values),
          difference,
          unit,
        );
  }, [earlier, from, difference, unit]);
  return (
    <div className="shots-needed">
      <MeasureChoice
        entry={entry}
        axes={axes}
        onChoice={({ id }, said) => {
          setAsked({ id, axes: said });
          setFrom(ALL);
        }}
      />
      <div className="fields">
        <NumberField
          label={`Difference that would matter${unit === "" ? "" : `, ${unit}`}`}
          value={difference}
          min={0}
          onValue={setDifference}
        />
        <ChoiceField
          label="Scatter from"
          value={from}
          choices={[
            [ALL, "all earlier conditions"],
            ...earlier.map(({ key, words, values }) => [key, `${words} (${values.length})`] as const),
          ]}
          onValue={setFrom}
        />
      </div>
      <FaultNote fault={points.fault} onAgain={points.again} />
      {points.isBusy && points.answer === undefined ? <p className="quiet">Looking up earlier shots.</p> : null}
      {size === undefined ? (
        <p className="quiet">{missingText(earlier.length, points.answer !== undefined)}</p>
      ) : typeof size === "string" ? (
        <p role="alert">{size}</p>
      ) : (
        <Needed size={size} unit={unit} difference={Math.abs(difference ?? 0)} plan={plan} onPlan={onPlan} />
      )}
    </div>
  );
}

function missingText(countConditions: number, isKnown: boolean): string {
  const say = "Say the smallest difference between two conditions that would matter.";
  if (!isKnown || countConditions > 0) return say;
  return `There is no earlier shot of this player with this measure, so the scatter is not known yet: hit 5 shots of one condition first, or plan 10 of each. ${say}`;
}

/** The answer, or the sentence why there is none. */
function sizeOf(values: readonly (readonly number[])[], difference: number, unit: string): PlanSize | string {
  try {
    return planSize({ values, difference, unit });
  } catch (fault) {
    if (!(fault instanceof UnderfootError)) throw fault;
    return `${fault.message} ${fault.remedy}`;
  }
}

interface NeededProps {
  readonly size: PlanSize;
  readonly unit: string;
  readonly difference: number;
  readonly plan: SessionPlanShape;
  readonly onPlan: ShotsNeededProps["onPlan"];
}

function Needed({ size, unit, difference, plan, onPlan }: NeededProps): ReactElement {
  const [ref, widthPx] = useWidth();
  const { shots, sd, sentence } = size;
  return (
    <>
      <p role="status">{sentence}</p>
      {sd === undefined ? null : (
        <figure ref={ref}>
          <ReachPicture {...{ sd, shots, difference, unit, widthPx }} />
          <figcaption className="caption">
            About the smallest difference that is seen in 8 of 10 such sessions, by shots of each condition.
          </figcaption>
        </figure>
      )}
      {shots === undefined ? null : (
        <button
          type="button"
          className="btn"
          disabled={plan.conditions.length === 0}
          onClick={() => onPlan((before) => withCountOfEach(before, shots))}
        >
          Use {shots} of each
        </button>
      )}
    </>
  );
}
