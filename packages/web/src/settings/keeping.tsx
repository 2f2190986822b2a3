import type { About, Answer, Ask, JobShape, SettingsShape } from "@underfoot/protocol";
import { type ReactElement, useState } from "react";
import { call } from "../api/call.ts";
import { useAnswer } from "../api/use-answer.ts";
import { useDeed } from "../api/use-deed.ts";
import { FaultNote } from "../frame/fault-note.tsx";
import { byteText, momentText } from "./keeping-text.ts";

type JobAsk = Ask<"post /api/jobs">["json"];

/** Back up, bring a backup back, prove that everything is whole, compute anew. */
export function Keeping({
  about,
  settings,
}: {
  readonly about: About;
  readonly settings: SettingsShape;
}): ReactElement {
  const jobs = useAnswer("get /api/jobs", {}, ["job"]);
  const backups = useAnswer("get /api/backups", {}, ["job", "setting"]);
  const deed = useDeed();
  const running = jobs.answer?.find(({ state }) => state === "running");
  const start = (json: JobAsk): void => void deed.run(() => call("post /api/jobs", { json }));
  return (
    <section aria-labelledby="keeping-title">
      <h2 id="keeping-title">Backups and proof</h2>
      <p className="deeds">
        <button
          type="button"
          className="btn"
          disabled={running !== undefined}
          onClick={() => start({ kind: "backup" })}
        >
          Back up now
        </button>
        <button
          type="button"
          className="btn"
          disabled={running !== undefined}
          onClick={() => start({ kind: "verify" })}
        >
          Verify every file
        </button>
        <button
          type="button"
          className="btn"
          disabled={running !== undefined}
          onClick={() => start({ kind: "recompute", scope: "stale" })}
        >
          Compute what is missing or out of date
        </button>
      </p>
      <FaultNote fault={deed.fault ?? jobs.fault} />
      <Jobs jobs={jobs.answer ?? []} onMend={() => start({ kind: "verify", mend: true })} />
      <Backups
        backups={backups.answer ?? []}
        folder={settings.backupFolder}
        suggested={`${about.folder}-restored`}
        isBusy={running !== undefined}
        onRestore={(file, folder) => start({ kind: "restore", file, folder })}
      />
    </section>
  );
}

const STATE_WORDS: Readonly<Record<JobShape["state"], string>> = {
  running: "Running",
  done: "Done",
  failed: "Not done",
  cancelled: "Cancelled",
};

function Jobs({
  jobs,
  onMend,
}: {
  readonly jobs: readonly JobShape[];
  readonly onMend: () => void;
}): ReactElement | null {
  const deed = useDeed();
  if (jobs.length === 0) return null;
  return (
    <ul className="jobs" aria-live="polite">
      {jobs.slice(0, 5).map((job) => (
        <li key={job.id} className={job.state === "failed" ? "fault" : undefined}>
          <b>{STATE_WORDS[job.state]}.</b> {job.sentence} <span className="quiet">{job.remedy}</span>
          {job.state === "running" ? (
            <>
              <progress max={Math.max(1, job.total)} value={job.done} aria-label={job.sentence} />
              <button
                type="button"
                className="btn"
                onClick={() => deed.run(() => call("delete /api/jobs/{id}", { params: { id: job.id } }))}
              >
                Cancel
              </button>
            </>
          ) : null}
          {canMend(job) ? (
            <button type="button" className="btn" onClick={onMend}>
              Mend what can be mended
            </button>
          ) : null}
        </li>
      ))}
    </ul>
  );
}

/** A verification that found something that is not mended yet. */
function canMend({ kind, state, outcome }: JobShape): boolean {
  if (kind !== "verify" || state !== "done") return false;
  const { findings } = (outcome ?? {}) as { readonly findings?: readonly { readonly isMended?: boolean }[] };
  return findings?.some(({ isMended }) => isMended !== true) ?? false;
}

interface BackupsProps {
  readonly backups: Answer<"get /api/backups">;
  readonly folder: string;
  readonly suggested: string;
  readonly isBusy: boolean;
  readonly onRestore: (file: string, folder: string) => void;
}

function Backups({ backups, folder, suggested, isBusy, onRestore }: BackupsProps): ReactElement {
  const [chosen, setChosen] = useState<string>();
  const [target, setTarget] = useState(suggested);
  if (backups.length === 0)
    return <p className="small">No backup in {folder} yet. One is made each day Underfoot runs.</p>;
  const file = backups.find((backup) => backup.file === chosen)?.file ?? backups[0]?.file ?? "";
  return (
    <details>
      <summary>Bring a backup back ({backups.length} in the backup folder)</summary>
      <div className="folder">
        <label className="field">
          Backup
          <select value={file} onChange={(event) => setChosen(event.target.value)}>
            {backups.map((backup) => (
              <option key={backup.file} value={backup.file}>
                {`${momentText(backup.madeMs)}, ${byteText(backup.byteCount)}`}
              </option>
            ))}
          </select>
        </label>
        <label className="field">
          Into a new folder
          <input
            value={target}
            onChange={(event) => setTarget(event.target.value)}
            spellCheck={false}
            autoComplete="off"
          />
        </label>
        <button
          type="button"
          className="btn"
          disabled={isBusy || target.trim() === ""}
          onClick={() => onRestore(file, target.trim())}
        >
          Bring it back there
        </button>
        <p className="caption">
          The library you have stays as it is. When the backup is whole in its folder, open it under Storage place
          above.
        </p>
      </div>
    </details>
  );
}
