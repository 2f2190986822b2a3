import { rulerValues, type SheetModel } from "@underfoot/report";
import { type KeyboardEvent, type PointerEvent, type ReactElement, type ReactNode, useEffect, useRef } from "react";
import type { Ruler } from "../ruler.ts";
import type { SheetLayout } from "./sheet-layout.ts";
import type { SheetScale } from "./sheet-scale.ts";

export interface RulerHandleProps {
  readonly model: SheetModel;
  readonly layout: SheetLayout;
  readonly scale: SheetScale;
  readonly ruler: Ruler;
}

/** A page of the ruler, frames: what Page Up and Page Down do. */
const PAGE_FRAMES = 100;

/** The ruler as a slider on the right edge: focus, arrows, and a thumb to drag. */
export function RulerHandle({ model, layout, scale, ruler }: RulerHandleProps): ReactElement {
  const handle = useRef<HTMLDivElement>(null);
  useEffect(() => {
    const element = handle.current;
    if (element === null) return undefined;
    const paint = (): void => {
      const values = rulerValues(model, 1000 * (ruler.timeS() - model.time.zero.zeroS));
      element.style.transform = `translateY(${scale.yTime(values.timeMs).toFixed(1)}px)`;
      element.setAttribute("aria-valuenow", `${Math.round(values.timeMs)}`);
      element.setAttribute("aria-valuetext", values.ariaText);
    };
    paint();
    return ruler.follow(paint);
  });
  return (
    <div
      ref={handle}
      className="ruler-handle"
      role="slider"
      tabIndex={0}
      aria-label="Ruler: time from impact"
      aria-orientation="vertical"
      aria-valuemin={Math.round(model.time.startMs)}
      aria-valuemax={Math.round(model.time.endMs)}
      aria-valuenow={0}
      style={{ left: layout.lineRight - 18 }}
      onKeyDown={(event) => moveRulerByKey(event, ruler)}
      onPointerDown={(event) => event.currentTarget.setPointerCapture(event.pointerId)}
    >
      <svg width="16" height="20" viewBox="0 0 16 20" aria-hidden="true">
        <path d="M0 10L16 0v20Z" fill="var(--ink)" />
      </svg>
    </div>
  );
}

/** Up and Down by a frame, with Shift by ten, Page Up and Page Down by a hundred, Home and End. */
export function moveRulerByKey(event: KeyboardEvent, ruler: Ruler): void {
  const { firstS, lastS, frameS } = ruler.limits();
  const now = ruler.timeS();
  const places: Readonly<Record<string, number>> = {
    // Time falls: down is later.
    ArrowDown: now + (event.shiftKey ? 10 : 1) * frameS,
    ArrowUp: now - (event.shiftKey ? 10 : 1) * frameS,
    PageDown: now + PAGE_FRAMES * frameS,
    PageUp: now - PAGE_FRAMES * frameS,
    Home: firstS,
    End: lastS,
  };
  const place = places[event.key];
  if (place === undefined) return;
  event.preventDefault();
  ruler.move(place);
}

export interface RulerSurfaceProps extends RulerHandleProps {
  readonly children: ReactNode;
}

/** Press anywhere in the falling columns to set the ruler, drag to move it. A finger may still scroll the page there. */
export function RulerSurface({ model, layout, scale, ruler, children }: RulerSurfaceProps): ReactElement {
  const top = useRef(0);
  const place = (event: PointerEvent<HTMLElement>): void => {
    const y = event.clientY - top.current;
    ruler.move(model.time.zero.zeroS + scale.msAt(y) / 1000);
  };
  return (
    <div
      className="surface"
      style={{ height: layout.height }}
      onPointerDown={(event) => {
        top.current = event.currentTarget.getBoundingClientRect().top;
        const isHandle = event.target instanceof Element && event.target.closest(".ruler-handle") !== null;
        const y = event.clientY - top.current;
        if (event.button !== 0 || (y < layout.fallTop - 8 && !isHandle)) return;
        place(event);
        if (event.pointerType === "mouse" && !isHandle) event.currentTarget.setPointerCapture(event.pointerId);
      }}
      onPointerMove={(event) => {
        const isHeld = event.target instanceof Element && event.target.hasPointerCapture(event.pointerId);
        if (isHeld) place(event);
      }}
    >
      {children}
    </div>
  );
}
