import type { PlateCheckShape } from "@underfoot/protocol";
import { type ReactElement, useState } from "react";
import { call } from "../../api/call.ts";
import { useDeed } from "../../api/use-deed.ts";
import { FaultNote } from "../../frame/fault-note.tsx";
import { checkDetail } from "./check-detail.ts";
import type { CheckStanding } from "./check-standing.ts";
import { amount } from "./check-words.ts";
import { Lozenge } from "./lozenge.tsx";

/** Hour and minute where the page is. */
export function timeOf(createdMs: number): string {
  const at = new Date(createdMs);
  return `${String(at.getHours()).padStart(2, "0")}:${String(at.getMinutes()).padStart(2, "0")}`;
}

interface CheckFoundProps {
  readonly check: PlateCheckShape;
  readonly standing: CheckStanding;
  readonly onMade: () => void;
}

/** Allowed and found, the sentence, the parts, and what a person may do where it failed. */
export function CheckFound({ check, standing, onMade }: CheckFoundProps): ReactElement {
  const { parts, sentence, remedy, cautions } = checkDetail(check.detail);
  const isOpen = standing.state === "failed";
  return (
    <div className="check-found">
      <p>
        {amount(check.found, check.unit)} found, {amount(check.allowed, check.unit)} allowed,{" "}
        {check.isPassed ? "within" : "beyond"}. <span className="quiet">Made at {timeOf(check.createdMs)}.</span>
      </p>
      {sentence === undefined ? null : <p className="small">{sentence}</p>}
      {check.isPassed || remedy === undefined ? null : <p className="small">{remedy}</p>}
      {standing.state === "went-on" && check.note !== undefined ? (
        <p className="small">Gone on anyway: “{check.note}” travels with every shot.</p>
      ) : null}
      {parts.length < 2 ? null : <Parts parts={parts} />}
      {cautions.length === 0 ? null : (
        <details className="plain">
          <summary>Cautions</summary>
          <ul className="earlier">
            {cautions.map((caution) => (
              <li key={caution}>{caution}</li>
            ))}
          </ul>
        </details>
      )}
      {isOpen ? <GoOn check={check} onMade={onMade} /> : null}
    </div>
  );
}

function Parts({ parts }: { readonly parts: ReturnType<typeof checkDetail>["parts"] }): ReactElement {
  return (
    <details className="plain">
      <summary>{parts.length} parts</summary>
      <div className="wide-table">
        <table>
          <thead>
            <tr>
              <th scope="col">Part</th>
              <th scope="col">Found</th>
              <th scope="col">Allowed</th>
            </tr>
          </thead>
          <tbody>
            {parts.map(({ name, found, allowed, unit, isPassed }) => (
              <tr key={name}>
                <th scope="row">
                  <Lozenge state={isPassed ? "within" : "beyond"} />
                  <span className="hidden">{isPassed ? "within: " : "beyond: "}</span> {name}
                </th>
                <td>{amount(found, unit)}</td>
                <td>{amount(allowed, unit)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </details>
  );
}

/** Going on past a failed check: never without a note. */
function GoOn({ check, onMade }: { readonly check: PlateCheckShape; readonly onMade: () => void }): ReactElement {
  const deed = useDeed();
  const [isOpen, setIsOpen] = useState(false);
  if (!isOpen)
    return (
      <button type="button" className="btn" onClick={() => setIsOpen(true)}>
        Go on anyway
      </button>
    );
  return (
    <form
      className="go-on"
      onSubmit={async (event) => {
        event.preventDefault();
        const note = String(new FormData(event.currentTarget).get("note") ?? "").trim();
        const done = await deed.run(() =>
          call("post /api/checks/{id}/go-on", { params: { id: check.id }, json: { note } }),
        );
        if (done !== undefined) onMade();
      }}
    >
      <label className="field wide">
        <span>Why go on? This note travels with every shot until a repeat passes.</span>
        <input name="note" type="text" required maxLength={1000} autoComplete="off" />
      </label>
      <FaultNote fault={deed.fault} />
      <div className="deeds">
        <button type="submit" className="btn main" disabled={deed.isBusy}>
          Go on with this note
        </button>
        <button type="button" className="btn" onClick={() => setIsOpen(false)}>
          Cancel
        </button>
      </div>
    </form>
  );
}
