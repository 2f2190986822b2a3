import type { ReactElement } from "react";

/** The product's mark: the ground line, the target line, and pressure falling in time. */
export function IconMark(): ReactElement {
  return (
    <svg width="22" height="26" viewBox="0 0 22 26" aria-hidden="true">
      <path d="M1 5h20" stroke="var(--turf-ink)" strokeWidth="2" />
      <path d="M11 1v24" stroke="var(--edge)" strokeWidth="1" />
      <path d="M7 5c0 7 1 7 4 11s3 5 3 9" fill="none" stroke="var(--ink)" strokeWidth="3.2" />
    </svg>
  );
}
