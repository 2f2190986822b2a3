import type { SessionShape } from "@underfoot/protocol";
import { useEffect, useRef, useState } from "react";
import { call } from "../../api/call.ts";
import type { Deed } from "../../api/use-deed.ts";
import { NO_PLAN, type SessionPlanShape } from "../order/plan-grid.ts";
import { redrawn } from "../order/plan-order.ts";

export interface PlanDraft {
  readonly plan: SessionPlanShape;
  /** Changes the plan, draws its order anew and keeps both; one after the other, whatever the hurry. */
  readonly change: (make: (plan: SessionPlanShape) => SessionPlanShape) => void;
}

/**
 * The plan as it is being changed: shown at once, kept behind it. What the library says counts again as soon as nothing
 * is on its way there.
 */
export function usePlanDraft(session: SessionShape, deed: Deed, onKept: () => void): PlanDraft {
  const kept = session.plan ?? NO_PLAN;
  const [draft, setDraft] = useState<SessionPlanShape>();
  const latest = useRef(kept);
  const underWay = useRef(0);
  const queue = useRef<Promise<unknown>>(Promise.resolve());
  useEffect(() => {
    if (underWay.current > 0) return;
    latest.current = session.plan ?? NO_PLAN;
    setDraft(undefined);
  }, [session]);
  const change = (make: (plan: SessionPlanShape) => SessionPlanShape): void => {
    const plan = redrawn(make(latest.current));
    latest.current = plan;
    setDraft(plan);
    underWay.current += 1;
    const params = { id: session.id };
    queue.current = queue.current.then(async () => {
      await deed.run(() => call("patch /api/sessions/{id}", { params, json: { plan } }));
      underWay.current -= 1;
      if (underWay.current === 0) onKept();
    });
  };
  return { plan: draft ?? kept, change };
}
