import type { PlayerAxes } from "@underfoot/domain";
import type { ColumnKindId, SheetColumn } from "@underfoot/report";
import type { ReactElement } from "react";

export interface ShotDeedsProps {
  readonly axes: PlayerAxes;
  readonly canUndo: boolean;
  readonly onAxes: () => void;
  readonly onMarking: (isMarking: boolean) => void;
  readonly onUndo: () => void;
  readonly onSidecar: () => void;
  readonly onColumns: () => void;
}

/** What can be done with the shot; each has its key. */
export function ShotDeeds({
  axes,
  canUndo,
  onAxes,
  onMarking,
  onUndo,
  onSidecar,
  onColumns,
}: ShotDeedsProps): ReactElement {
  return (
    <div className="deeds shot-deeds">
      <fieldset className="switch">
        <legend className="hidden">Axes</legend>
        {(["turf", "level"] as const).map((version) => (
          <button
            key={version}
            type="button"
            aria-pressed={axes === version}
            onClick={() => (axes === version ? undefined : onAxes())}
          >
            {version}
          </button>
        ))}
        <kbd className="key">L</kbd>
      </fieldset>
      <button type="button" className="btn long" onClick={() => onMarking(true)}>
        Mark event <kbd className="key">E</kbd>
      </button>
      <button type="button" className="btn" onClick={onColumns}>
        Columns
      </button>
      <button type="button" className="btn" disabled={!canUndo} onClick={onUndo}>
        Undo <kbd className="key">U</kbd>
      </button>
      {canUndo ? (
        <button type="button" className="btn long" onClick={onSidecar}>
          Save as sidecar
        </button>
      ) : null}
    </div>
  );
}

export interface ColumnTabsProps {
  readonly columns: readonly SheetColumn[];
  readonly tab: ColumnKindId | undefined;
  readonly onTab: (tab: ColumnKindId | undefined) => void;
}

/** On a phone one column stands under the plan at a time. */
export function ColumnTabs({ columns, tab, onTab }: ColumnTabsProps): ReactElement {
  return (
    <fieldset className="tabs">
      <legend className="hidden">Column under the plan</legend>
      {[{ id: undefined, title: "Pressure" }, ...columns].map(({ id, title }) => (
        <button key={title} type="button" aria-pressed={tab === id} onClick={() => onTab(id)}>
          {title}
        </button>
      ))}
    </fieldset>
  );
}
