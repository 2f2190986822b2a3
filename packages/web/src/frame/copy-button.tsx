import { type ReactElement, useState } from "react";

export interface CopyButtonProps {
  readonly word: string;
  readonly text: () => string;
}

/** Puts text on the clipboard and says so. */
export function CopyButton({ word, text }: CopyButtonProps): ReactElement {
  const [said, setSaid] = useState("");
  const copy = (): void => {
    navigator.clipboard.writeText(text()).then(
      () => setSaid("Copied."),
      () => setSaid("The browser does not allow copying: mark the table and copy it by hand."),
    );
  };
  return (
    <span className="deeds">
      <button type="button" className="btn" onClick={copy}>
        {word}
      </button>
      <span role="status">{said}</span>
    </span>
  );
}
