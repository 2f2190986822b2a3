import { useLayoutEffect, useRef, useState } from "react";

/** One side of an element in whole CSS px as it changes; 0 before it is laid out. The first of the pair is the element's `ref`. */
function useSize(read: (box: DOMRectReadOnly) => number): readonly [(element: HTMLElement | null) => void, number] {
  const [size, setSize] = useState(0);
  const [element, setElement] = useState<HTMLElement | null>(null);
  const reader = useRef(read);
  useLayoutEffect(() => {
    if (element === null) return undefined;
    const measure = (): void => setSize(Math.round(reader.current(element.getBoundingClientRect())));
    measure();
    const observer = new ResizeObserver(measure);
    observer.observe(element);
    return () => observer.disconnect();
  }, [element]);
  return [setElement, size];
}

export const useWidth = () => useSize((box) => box.width);
export const useHeight = () => useSize((box) => box.height);
