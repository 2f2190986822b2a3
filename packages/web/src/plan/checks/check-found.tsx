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
function timeOf(createdMs: number): string {
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
      <More parts={parts} cautions={cautions} earlier={standing.earlier} />
      {isOpen ? <GoOn check={check} onMade={onMade} /> : null}
    </div>
  );
}

interface MoreProps extends Pick<ReturnType<typeof checkDetail>, "parts" | "cautions"> {
  readonly earlier: readonly PlateCheckShape[];
}

/** The parts of a check, its cautions, and the checks of its kind before it. */
function More({ parts, cautions, earlier }: MoreProps): ReactElement | null {
  const words = [
    ...(parts.length < 2 ? [] : [`${parts.length} parts`]),
    ...(cautions.length === 0 ? [] : ["cautions"]),
    ...(earlier.length === 0 ? [] : [`${earlier.length} earlier`]),
  ];
  if (words.length === 0) return null;
  return (
    <details className="plain">
      <summary>{words.join(", ")}</summary>
      {parts.length < 2 ? null : <Parts parts={parts} />}
      {cautions.length === 0 ? null : (
        <ul className="earlier" aria-label="Cautions">
          {cautions.map((caution) => (
            <li key={caution}>{caution}</li>
          ))}
        </ul>
      )}
      {earlier.length === 0 ? null : (
        <ul className="earlier" aria-label="Earlier checks">
          {earlier.map(({ id, isPassed, wentOn, found, unit, createdMs, note }) => (
            <li key={id}>
              {timeOf(createdMs)}: {isPassed ? "passed" : wentOn ? "failed, gone on anyway" : "failed"},{" "}
              {amount(found, unit)} found{note === undefined ? "" : `. ${note}`}
            </li>
          ))}
        </ul>
      )}
    </details>
  );
}

function Parts({ parts }: Pick<MoreProps, "parts">): ReactElement {
  return (
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
