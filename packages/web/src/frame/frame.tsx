import { type ReactElement, type ReactNode, useLayoutEffect, useMemo, useState } from "react";
import { reach, useReach } from "../api/reach.ts";
import { useAnswer } from "../api/use-answer.ts";
import { ContextLine, type ContextLineProps } from "./context-line.tsx";
import { KeyList } from "./key-list.tsx";
import { FRAME_KEYS, type ScreenKey } from "./keys.ts";
import { useKeys } from "./use-keys.ts";
import { useHeight } from "./use-size.ts";

export interface FrameProps extends Omit<ContextLineProps, "onKeys"> {
  /** What keys do on this screen. */
  readonly keys: readonly ScreenKey[];
  readonly isBusy?: boolean;
  readonly children: ReactNode;
}

/** What every screen has: the context line, what must be said of the library, theme and keys. */
export function Frame({ keys, isBusy = false, children, ...line }: FrameProps): ReactElement {
  const { onTheme } = line;
  const { answer: about } = useAnswer("get /api/about", {}, []);
  const [areKeysOpen, setAreKeysOpen] = useState(false);
  const [bar, heightPx] = useHeight();
  // What gets the focus must not come to lie under the line (WCAG 2.2, 2.4.11).
  useLayoutEffect(() => {
    document.documentElement.style.setProperty("--bar", `${heightPx}px`);
  }, [heightPx]);
  const deeds = useMemo(() => ({ theme: onTheme, print: () => print(), keys: () => setAreKeysOpen(true) }), [onTheme]);
  useKeys(FRAME_KEYS, deeds);
  return (
    <>
      <div ref={bar} className="bar">
        <ContextLine {...line} onKeys={deeds.keys} />
      </div>
      <LostServer />
      {about?.isDemo === true ? (
        <aside aria-label="Demo" className="frame-note demo-note">
          Invented players and shots: nobody was measured.
        </aside>
      ) : null}
      <main aria-busy={isBusy}>{children}</main>
      {areKeysOpen ? <KeyList keys={keys} onClose={() => setAreKeysOpen(false)} /> : null}
    </>
  );
}

/** One quiet line while the server does not answer; the page asks again by itself. */
function LostServer(): ReactElement {
  const isReached = useReach();
  return (
    <div role="status">
      {isReached ? null : (
        <p className="frame-note">
          Underfoot on this machine does not answer; nothing is lost. Start it again in its terminal.{" "}
          <button type="button" className="btn" onClick={reach.tryNow}>
            Try again
          </button>
        </p>
      )}
    </div>
  );
}
