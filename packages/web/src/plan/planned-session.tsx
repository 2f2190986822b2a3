import type { PlayerShape, SessionShape } from "@underfoot/protocol";
import { dayText } from "@underfoot/report";
import { type ReactElement, type ReactNode, useState } from "react";
import { useAnswer } from "../api/use-answer.ts";
import { FaultNote } from "../frame/fault-note.tsx";
import { placeHref } from "../frame/place.ts";
import { checkDetail } from "./checks/check-detail.ts";
import { CheckList } from "./checks/check-list.tsx";
import { checkStandings, trustSentence } from "./checks/check-standing.ts";
import { GroundPart } from "./ground/ground-part.tsx";
import { AskedList } from "./order/asked-list.tsx";
import { OrderPart } from "./order/order-part.tsx";
import { PlanGridTable } from "./order/plan-grid-table.tsx";
import { nextSentence } from "./order/plan-order.ts";
import { PrintedHead } from "./order/printed-head.tsx";
import { ShotsNeeded } from "./order/shots-needed.tsx";
import { SessionFacts } from "./session/session-facts.tsx";
import { UndoLine } from "./session/undo-line.tsx";
import { useKeeping } from "./session/use-keeping.ts";
import { usePlanDraft } from "./session/use-plan-draft.ts";

/** One session with its checks, its ground and its plan. */
export function PlannedSession({ id }: { readonly id: string }): ReactElement {
  const session = useAnswer("get /api/sessions/{id}", { params: { id } }, ["session"]);
  if (session.answer !== undefined) return <OpenSession session={session.answer} onAgain={session.again} />;
  if (session.fault === undefined) return <p className="state">Looking up the session.</p>;
  return (
    <div className="state">
      <h1>This session cannot be shown.</h1>
      <FaultNote fault={session.fault} onAgain={session.again} />
      <a href={placeHref("plan")}>Choose another session</a>
    </div>
  );
}

/** While no layout is chosen: as most recordings number them. */
const USUAL_PLATES = [
  { plate: 1, foot: "lead" },
  { plate: 2, foot: "trail" },
] as const;

interface OpenSessionProps {
  readonly session: SessionShape;
  readonly onAgain: () => void;
}

function OpenSession({ session, onAgain }: OpenSessionProps): ReactElement {
  const { id, playerId } = session;
  const player = useAnswer("get /api/players/{id}", { params: { id: playerId } }, ["player"]);
  const layouts = useAnswer("get /api/layouts", {}, ["layout"]);
  const clubs = useAnswer("get /api/clubs", {}, ["club"]);
  const checks = useAnswer("get /api/sessions/{id}/checks", { params: { id } }, ["check"]);
  const shots = useAnswer("get /api/shots", { query: { sessionId: id, limit: 1 } }, ["shot"]);
  const outlines = useAnswer("get /api/players/{id}/outlines", { params: { id: playerId } }, ["player"]);
  const keeping = useKeeping(id, playerId);
  const { plan, change } = usePlanDraft(session, keeping.deed, onAgain);
  const layout = layouts.answer?.find((one) => one.id === session.layoutId);
  const standings = checkStandings(checks.answer ?? []);
  const countShots = shots.answer?.total ?? 0;
  const walked = standings.find(({ kind }) => kind === "outlines")?.latest;
  const plates = layout?.plates.filter(({ foot }) => foot !== "none") ?? USUAL_PLATES;
  const fault = player.fault ?? layouts.fault ?? clubs.fault ?? checks.fault ?? shots.fault ?? outlines.fault;
  return (
    <>
      <h1>{checks.answer === undefined ? "Looking up the checks." : trustSentence(standings)}</h1>
      <p className="next">{nextSentence(plan, countShots)}</p>
      <FaultNote fault={fault} />
      <Who session={session} player={player.answer} layoutName={layout?.name} countShots={countShots} />
      <details className="facts-part">
        <summary>
          <h2>Session, player, plates and clubs</h2>
        </summary>
        <SessionFacts
          {...{ session, keeping }}
          player={player.answer}
          layouts={layouts.answer ?? []}
          clubs={clubs.answer ?? []}
        />
      </details>
      <PrintedHead {...{ session, plan }} player={player.answer} />
      <div className="parts">
        <Part name="checks" title="Checks" isFirst>
          <CheckList
            sessionId={id}
            standings={standings}
            facts={{ lies: plan.lies, plates }}
            onMade={() => {
              checks.again();
              keeping.look();
            }}
          />
        </Part>
        <Part name="ground" title="Plates and lie">
          <GroundPart
            {...{ plan, layout, keeping }}
            onPlan={change}
            player={player.answer}
            outlines={outlines.answer ?? []}
            walked={checkDetail(walked?.detail).outlines}
            onOutlines={outlines.again}
          />
        </Part>
        <Part name="order" title="Plan">
          <PlanGridTable plan={plan} onPlan={change} clubs={clubs.answer ?? []} />
          <details className="plain">
            <summary>How many shots do I need?</summary>
            <ShotsNeeded sessionId={id} playerId={playerId} plan={plan} onPlan={change} />
          </details>
          <details className="plain" open={plan.asked.length > 0}>
            <summary>Asked measures{plan.asked.length === 0 ? "" : `, ${plan.asked.length}`}</summary>
            <AskedList plan={plan} onPlan={change} />
          </details>
          <OrderPart plan={plan} onPlan={change} countShots={countShots} />
        </Part>
      </div>
      <UndoLine {...keeping} />
    </>
  );
}

interface WhoProps {
  readonly session: SessionShape;
  readonly player: PlayerShape | undefined;
  readonly layoutName: string | undefined;
  readonly countShots: number;
}

function Who({ session, player, layoutName, countShots }: WhoProps): ReactElement {
  const words = [
    player === undefined ? undefined : `${player.code}, ${player.handed}-handed`,
    dayText(session.day),
    session.place,
    layoutName ?? "no plate layout yet",
    countShots === 1 ? "1 shot stored" : `${countShots} shots stored`,
  ].filter((word) => word !== undefined);
  return (
    <p className="who-line">
      {words.join(" · ")} <a href={placeHref("plan")}>Other sessions</a>
    </p>
  );
}

/** Below this a phone shows one part at a time. */
const NARROW = "(max-width: 700px)";

interface PartProps {
  readonly name: string;
  readonly title: string;
  /** Open even where there is room for one part only. */
  readonly isFirst?: boolean;
  readonly children: ReactNode;
}

/** A third of the screen, which folds; on a phone all but the first begin folded. */
function Part({ name, title, isFirst = false, children }: PartProps): ReactElement {
  const [isOpenAtFirst] = useState(() => isFirst || !matchMedia(NARROW).matches);
  return (
    <details className={`part ${name}-part`} open={isOpenAtFirst}>
      <summary>
        <h2>{title}</h2>
      </summary>
      {children}
    </details>
  );
}
