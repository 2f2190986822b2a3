import type { ReactElement } from "react";

/** Filled: beyond what is allowed; hollow: within; a dot: not known yet. The words beside it say the same. */
export function Lozenge({ state }: { readonly state: "beyond" | "within" | "not-known" }): ReactElement {
  return (
    <svg className="lozenge" width="18" height="18" viewBox="-9 -9 18 18" aria-hidden="true" data-state={state}>
      {state === "not-known" ? (
        <circle r="3" fill="var(--ink-3)" />
      ) : (
        <path
          d="M0-7.5L7.5 0L0 7.5L-7.5 0Z"
          fill={state === "beyond" ? "var(--ink)" : "var(--paper)"}
          stroke="var(--ink)"
          strokeWidth="1.8"
        />
      )}
    </svg>
  );
}
