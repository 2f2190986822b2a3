import type { Foot, FootOutlineFact } from "@underfoot/domain";
import type { LayoutShape, OutlineShape, PlayerShape } from "@underfoot/protocol";
import { lieText } from "@underfoot/report";
import { type ReactElement, useState } from "react";
import { call } from "../../api/call.ts";
import { useWidth } from "../../frame/use-size.ts";
import { Hatches } from "../../shot/sheet/hatches.tsx";
import type { SessionPlanShape } from "../order/plan-grid.ts";
import type { Keeping } from "../session/use-keeping.ts";
import { FootTracing, plainOutline } from "./foot-tracing.tsx";
import { type GroundPlan, type GroundSole, groundPlan, groundSole, outlinesOf, plateOf } from "./ground-plan.ts";
import { isSloped, SLOPE_CAUTIONS, tiltWarnings } from "./lie-cautions.ts";
import { LieList } from "./lie-list.tsx";
import { LiePicture } from "./lie-picture.tsx";
import { PlatesPicture } from "./plates-picture.tsx";

export interface GroundPartProps {
  readonly plan: SessionPlanShape;
  readonly onPlan: (make: (plan: SessionPlanShape) => SessionPlanShape) => void;
  readonly layout: LayoutShape | undefined;
  readonly player: PlayerShape | undefined;
  readonly outlines: readonly OutlineShape[];
  /** Walked round in the latest check of outlines. */
  readonly walked: readonly FootOutlineFact[];
  readonly keeping: Keeping;
  readonly onOutlines: () => void;
}

const FEET = ["trail", "lead"] as const satisfies Foot[];

/** The plates and the lie: what the player stands on. */
export function GroundPart(props: GroundPartProps): ReactElement {
  const { plan, onPlan, layout, player, outlines } = props;
  const [ref, widthPx] = useWidth();
  const [shown, setShown] = useState<string>();
  const handed = player?.handed ?? "right";
  const ground = groundPlan(
    layout?.plates ?? [
      { plate: 1, foot: "lead" },
      { plate: 2, foot: "trail" },
    ],
    handed,
  );
  const lie = plan.lies.find(({ name }) => name === shown) ?? plan.lies[0];
  const traced = FEET.filter((foot) => outlinesOf(outlines, foot, player?.shoes).length > 0);
  const soles = FEET.flatMap((foot) => soleOn(ground, outlinesOf(outlines, foot, player?.shoes)) ?? []);
  return (
    <>
      <svg width="0" height="0" aria-hidden="true" className="hidden">
        <Hatches />
      </svg>
      <figure ref={ref}>
        <PlatesPicture {...{ ground, soles, lie, handed, widthPx }} />
        <figcaption className="caption">
          {captionOf({ ground, layout, traced: traced.length, drawn: soles.length })}
        </figcaption>
      </figure>
      {lie === undefined ? null : (
        <figure>
          <LiePicture lie={lie} widthPx={widthPx} />
          <figcaption className="caption">
            {lie.name} from the side{lieText(lie) === lie.name ? "" : `: ${lieText(lie)}`}.
          </figcaption>
        </figure>
      )}
      {tiltWarnings(plan.lies, layout).map((warning) => (
        <p key={warning} className="fault" role="alert">
          {warning}
        </p>
      ))}
      {plan.lies.some(isSloped) ? <p className="safety">{SLOPE_CAUTIONS}</p> : null}
      <h3>Lies</h3>
      <LieList plan={plan} onPlan={onPlan} shown={shown} onShown={setShown} />
      <Feet {...props} {...{ ground, lie }} />
    </>
  );
}

/** The newest of these outlines that lies on these plates. */
function soleOn(ground: GroundPlan, outlines: readonly OutlineShape[]): GroundSole | undefined {
  for (const { outline } of outlines) {
    const sole = groundSole(outline, ground);
    if (sole !== undefined) return sole;
  }
  return undefined;
}

interface CaptionParts {
  readonly ground: GroundPlan;
  readonly layout: LayoutShape | undefined;
  /** Feet that were traced in these shoes, and those of them that lie on these plates. */
  readonly traced: number;
  readonly drawn: number;
}

function captionOf({ ground, layout, traced, drawn }: CaptionParts): string {
  const plates =
    layout === undefined
      ? "No plate layout is chosen: two usual plates are drawn."
      : ground.isPlaced
        ? `${layout.name}. The target line is taken from ${ground.targetFrom}.`
        : `${layout.name}. Where its plates lie is not written down: usual ones are drawn.`;
  const feet = ["Feet not traced yet, drawn dashed.", "One foot traced.", "Both feet traced."][drawn] ?? "";
  const elsewhere =
    ground.isPlaced && traced > drawn
      ? " What was traced before does not lie on these plates: trace it again here."
      : "";
  return `${plates} ${feet}${elsewhere}`;
}

type FeetProps = GroundPartProps & {
  readonly ground: GroundPlan;
  readonly lie: SessionPlanShape["lies"][number] | undefined;
};

/** Tracing by hand, and taking over what was walked round. */
function Feet(props: FeetProps): ReactElement {
  const { player, ground, walked, outlines, keeping, onOutlines } = props;
  const [foot, setFoot] = useState<Foot>();
  const plate = foot && plateOf(foot, ground);
  if (player === undefined || !ground.isPlaced)
    return (
      <>
        <h3>Feet</h3>
        <p className="small">
          Feet are traced on their plates: choose a layout whose plates have a place, under Session, player, plates and
          clubs.
        </p>
      </>
    );
  const takeOver = async (outline: FootOutlineFact): Promise<void> => {
    const json = { outline: plainOutline(outline), ...(player.shoes === undefined ? {} : { shoes: player.shoes }) };
    await keeping.deed.run(() => call("post /api/players/{id}/outlines", { params: { id: player.id }, json }));
    onOutlines();
  };
  const sole = foot && soleOn(ground, outlinesOf(outlines, foot, player.shoes));
  return (
    <>
      <h3>Feet</h3>
      <div className="deeds">
        {FEET.map((one) => (
          <button
            key={one}
            type="button"
            className="btn"
            aria-pressed={one === foot}
            onClick={() => setFoot(one === foot ? undefined : one)}
          >
            Trace the {one} foot
          </button>
        ))}
        {walked.map((outline) => (
          <button key={outline.foot} type="button" className="btn" onClick={() => void takeOver(outline)}>
            Take the walked {outline.foot} foot over
          </button>
        ))}
      </div>
      {foot === undefined || plate === undefined ? null : (
        <FootTracing
          key={`${foot} ${outlinesOf(outlines, foot, player.shoes)[0]?.id ?? ""}`}
          {...{ player, foot, plate, ground, lie: props.lie, keeping }}
          sole={sole}
          onKept={onOutlines}
        />
      )}
    </>
  );
}
