import { useEffect, useState } from "react";

/**
 * What is dropped anywhere on the page.
 *
 * @param onDrop  told of each drop; the same function from render to render
 * @returns true while files are held over the page
 */
export function useDrop(onDrop: (transfer: DataTransfer) => void): boolean {
  const [isOver, setIsOver] = useState(false);
  useEffect(() => {
    const over = (event: DragEvent): void => {
      event.preventDefault();
      setIsOver(event.dataTransfer?.types.includes("Files") ?? false);
    };
    const leave = (event: DragEvent): void => {
      if (event.relatedTarget === null) setIsOver(false);
    };
    const drop = (event: DragEvent): void => {
      event.preventDefault();
      setIsOver(false);
      if (event.dataTransfer !== null) onDrop(event.dataTransfer);
    };
    document.addEventListener("dragover", over);
    document.addEventListener("dragleave", leave);
    document.addEventListener("drop", drop);
    return () => {
      document.removeEventListener("dragover", over);
      document.removeEventListener("dragleave", leave);
      document.removeEventListener("drop", drop);
    };
  }, [onDrop]);
  return isOver;
}
