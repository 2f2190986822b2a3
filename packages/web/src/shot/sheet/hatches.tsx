import type { ReactElement } from "react";

/** Gravity is always this hachure; speed lost is always these horizontal lines. */
export function Hatches(): ReactElement {
  return (
    <defs>
      <pattern id="hachure" width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
        <path d="M0 0V7" stroke="var(--turf)" strokeWidth="1.6" />
      </pattern>
      <pattern id="loss" width="6" height="5" patternUnits="userSpaceOnUse">
        <path d="M0 2.5H6" stroke="var(--target)" strokeWidth="1.1" />
      </pattern>
    </defs>
  );
}
