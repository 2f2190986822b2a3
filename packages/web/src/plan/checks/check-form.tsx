import { KNOWN_MASS_PLACES } from "@underfoot/pipeline";
import type { CheckAsk } from "@underfoot/protocol";
import { type DragEvent, type ReactElement, useRef, useState } from "react";
import { call } from "../../api/call.ts";
import { useDeed } from "../../api/use-deed.ts";
import { FaultNote } from "../../frame/fault-note.tsx";
import { ChoiceField } from "../fields.tsx";
import type { Placeable } from "../ground/plate-place.ts";
import type { PlanLie } from "../order/plan-grid.ts";
import { MassField } from "../session/player-fields.tsx";
import type { CheckStanding } from "./check-standing.ts";
import { CHECK_WORDS, type CheckKind } from "./check-words.ts";
import { targetOfRecording } from "./target-of-recording.ts";

/** What the session says that a check may ask for. */
export interface CheckFormFacts {
  readonly lies: readonly PlanLie[];
  /** Of the layout; usual ones where none is chosen. */
  readonly plates: readonly Placeable[];
}

interface CheckFormProps {
  readonly sessionId: string;
  readonly kind: CheckKind;
  readonly state: CheckStanding["state"];
  readonly facts: CheckFormFacts;
  readonly onMade: () => void;
}

/** Which checks depend on the lie. */
const ON_A_LIE: readonly CheckKind[] = ["known-mass", "quiet-lean"];

type Asked = Omit<CheckAsk, "kind">;

const isSidecar = (file: File): boolean => /\.json$/i.test(file.name);

/** The form of what the server computes the check from. */
async function checkData(files: readonly File[], ask: CheckAsk, plates: readonly Placeable[]): Promise<FormData> {
  const form = new FormData();
  const recording = files.find((file) => !isSidecar(file));
  const sidecar = files.find(isSidecar);
  if (sidecar !== undefined) form.set("sidecar", await sidecar.text());
  if (recording !== undefined) form.set("recording", recording, recording.name);
  const target = recording && targetOfRecording(new Uint8Array(await recording.arrayBuffer()), recording.name, plates);
  form.set("ask", JSON.stringify({ ...ask, ...(target === undefined ? {} : { target }) }));
  return form;
}

/** The recording of a check and what must be said beside it; under a disclosure once the check was made. */
export function CheckForm(props: CheckFormProps): ReactElement {
  const { kind, state } = props;
  if (state === "not-made") return <OpenForm {...props} />;
  return (
    <details className="plain repeat">
      <summary>
        Repeat<span className="hidden"> the check: {CHECK_WORDS[kind].title}</span>
      </summary>
      <OpenForm {...props} />
    </details>
  );
}

function OpenForm({ sessionId, kind, facts, onMade }: CheckFormProps): ReactElement {
  const deed = useDeed();
  const [files, setFiles] = useState<readonly File[]>([]);
  const [asked, setAsked] = useState<Asked>({});
  const [isOver, setIsOver] = useState(false);
  const abort = useRef<AbortController>(null);
  const recording = files.find((file) => !isSidecar(file));
  const lieName = asked.lieName ?? (ON_A_LIE.includes(kind) ? facts.lies[0]?.name : undefined);
  const make = async (): Promise<void> => {
    abort.current = new AbortController();
    const { signal } = abort.current;
    const made = await deed.run(async () => {
      const ask = { kind, ...asked, ...(lieName === undefined ? {} : { lieName }) };
      const form = await checkData(files, ask, facts.plates);
      return call("post /api/sessions/{id}/checks", { params: { id: sessionId }, form }, signal).catch(cancelled);
    });
    if (made === undefined) return;
    setFiles([]);
    onMade();
  };
  const onDrop = (event: DragEvent): void => {
    event.preventDefault();
    setIsOver(false);
    setFiles(Array.from(event.dataTransfer.files));
  };
  return (
    <form
      className="check-form"
      data-over={isOver}
      aria-label={`Make the check: ${CHECK_WORDS[kind].title}`}
      onDragOver={(event) => {
        event.preventDefault();
        setIsOver(true);
      }}
      onDragLeave={() => setIsOver(false)}
      onDrop={onDrop}
      onSubmit={(event) => {
        event.preventDefault();
        void make();
      }}
    >
      <CheckInputs {...{ kind, facts, asked, lieName }} onAsked={(part) => setAsked({ ...asked, ...part })} />
      <div className="deeds">
        <label className="btn file">
          {recording === undefined ? "Choose the recording" : "Choose another"}
          <input
            type="file"
            multiple
            aria-label={`Recording for: ${CHECK_WORDS[kind].title}`}
            accept=".c3d,.csv,.txt,.tsv,.json"
            onChange={(event) => {
              setFiles(Array.from(event.target.files ?? []));
              event.target.value = "";
            }}
          />
        </label>
        {recording === undefined ? null : (
          <button type="submit" className="btn main" disabled={deed.isBusy}>
            Make the check
          </button>
        )}
        {deed.isBusy ? (
          <button type="button" className="btn" onClick={() => abort.current?.abort()}>
            Cancel
          </button>
        ) : null}
      </div>
      <p className="small" role="status">
        {deed.isBusy ? `Computing the check from ${recording?.name ?? "the recording"}.` : filesText(files)}
      </p>
      <FaultNote fault={deed.fault} />
    </form>
  );
}

/** A check that a person cancelled is none. */
function cancelled(cause: unknown): undefined {
  if (cause instanceof DOMException && cause.name === "AbortError") return undefined;
  throw cause;
}

function filesText(files: readonly File[]): string {
  if (files.length === 0) return "Or drop it here, with its sidecar if it has one.";
  return files.map(({ name }) => name).join(" and ");
}

interface CheckInputsProps {
  readonly kind: CheckKind;
  readonly facts: CheckFormFacts;
  readonly asked: Asked;
  readonly lieName: string | undefined;
  readonly onAsked: (part: Partial<Asked>) => void;
}

type MassPlace = (typeof KNOWN_MASS_PLACES)[number];

function CheckInputs({ kind, facts, asked, lieName, onAsked }: CheckInputsProps): ReactElement | null {
  const isFootAsked = kind === "outlines" && facts.plates.some(({ foot }) => foot === "both");
  if (!ON_A_LIE.includes(kind) && !isFootAsked) return null;
  return (
    <div className="fields">
      {kind === "known-mass" ? (
        <>
          <MassField
            label="The mass"
            massKg={asked.massKg}
            least={1}
            most={300}
            onMassKg={(massKg) => massKg !== undefined && onAsked({ massKg })}
          />
          <ChoiceField
            label="On plate"
            value={asked.plate === undefined ? undefined : String(asked.plate)}
            none="any, one after the other"
            choices={facts.plates.map(({ plate }) => [String(plate), `plate ${plate}`])}
            onValue={(plate) => onAsked({ plate: plate === "" ? undefined : Number(plate) } as Partial<Asked>)}
          />
          <ChoiceField<MassPlace | "">
            label="At"
            value={asked.place}
            none="the nearest of five places"
            choices={KNOWN_MASS_PLACES.map((place) => [place, place])}
            onValue={(place) => onAsked({ place: place === "" ? undefined : place } as Partial<Asked>)}
          />
        </>
      ) : null}
      {isFootAsked ? (
        <ChoiceField
          label="Which foot"
          value={asked.foot}
          none="choose"
          choices={[
            ["lead", "the lead foot"],
            ["trail", "the trail foot"],
          ]}
          onValue={(foot) => onAsked({ foot })}
        />
      ) : null}
      {isFootAsked ? null : facts.lies.length === 0 ? (
        <p className="small wide">No lie is written down yet: add it under Plates and lie first. Flat is 0° and 0°.</p>
      ) : (
        <ChoiceField
          label="On the lie"
          value={lieName}
          choices={facts.lies.map(({ name }) => [name, name])}
          onValue={(name) => onAsked({ lieName: name })}
        />
      )}
    </div>
  );
}
