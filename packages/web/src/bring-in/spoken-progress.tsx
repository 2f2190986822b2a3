import { type ReactElement, useEffect, useRef, useState } from "react";

const EACH_MS = 2000;

/** A text for those who listen: politely, and at most once in two seconds. */
export function SpokenProgress({ text }: { readonly text: string }): ReactElement {
  const [spoken, setSpoken] = useState(text);
  const spokenAtMs = useRef(0);
  useEffect(() => {
    const waitMs = Math.max(0, spokenAtMs.current + EACH_MS - performance.now());
    const timer = setTimeout(() => {
      spokenAtMs.current = performance.now();
      setSpoken(text);
    }, waitMs);
    return () => clearTimeout(timer);
  }, [text]);
  return (
    <p className="hidden" aria-live="polite">
      {spoken}
    </p>
  );
}
