import type { ShotFacts } from "@underfoot/domain";
import { lieText } from "@underfoot/report";
import { type ReactElement, useState } from "react";
import type { PlatePlace } from "../shot/facts-entry.ts";
import { FactsForm } from "../shot/facts-form.tsx";
import { counted } from "./bring-words.ts";

export interface FolderFactsProps {
  /** Recordings without a sidecar, and all. */
  readonly factless: number;
  readonly total: number;
  readonly plates: readonly PlatePlace[];
  readonly facts: ShotFacts | undefined;
  readonly onFacts: (facts: ShotFacts | undefined) => void;
}

/** Hand, target, feet and lie, asked once for every recording of a folder that has no sidecar. */
export function FolderFacts({ factless, total, plates, facts, onFacts }: FolderFactsProps): ReactElement | null {
  const [isOpen, setIsOpen] = useState(true);
  if (factless === 0) {
    return <p className="small">{total === 1 ? "Its sidecar says" : "Their sidecars say"} who stood where.</p>;
  }
  const files = counted(factless, "file");
  if (facts !== undefined && !isOpen) {
    return (
      <div className="said-facts">
        <p>
          For {files} without a sidecar: {factsText(facts)}.
        </p>
        <button type="button" className="btn" onClick={() => setIsOpen(true)}>
          Change
        </button>
      </div>
    );
  }
  if (plates.length === 0) return <p className="small">Once the columns are understood, say here who stood where.</p>;
  return (
    <div>
      <FactsForm
        plates={plates}
        deed={`Use for ${files}`}
        onFacts={(said) => {
          onFacts(said);
          setIsOpen(false);
        }}
      />
      <p className="small facts-later">
        Asked once for {files} without a sidecar. Left unsaid, the shots come in with loads only, and it can be said
        later.
      </p>
    </div>
  );
}

function factsText({ handed, plates, lie }: ShotFacts): string {
  const feet = plates
    .filter(({ foot }) => foot !== "none")
    .map(({ plate, foot }) => `${foot === "both" ? "both feet" : `${foot} foot`} on plate ${plate}`);
  return [`${handed}-handed`, ...feet, ...(lie === undefined ? [] : [lieText(lie)])].join(", ");
}
