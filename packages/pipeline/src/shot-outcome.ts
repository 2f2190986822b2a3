import { type Finding, type Recording, type ShotFacts, UnderfootError } from "@underfoot/domain";
import { type ColumnMapping, recordingFromBytes, shotFactsFromSidecar, sidecarFindings } from "@underfoot/formats";
import {
  DEFAULT_SETTINGS,
  findingsFromMeasures,
  type Mark,
  type Measure,
  measuresFromShot,
  type Settings,
  type Shot,
  shotFromRecording,
  withMarks,
} from "@underfoot/mechanics";
import { inspection, type RecordingInspection } from "./inspection.ts";
import { loads, type PlateLoad } from "./loads.ts";
import { type Provenance, provenanceOf } from "./provenance.ts";
import { recordingStretch, type Stretch } from "./recording-stretch.ts";

/** One recording and all that is said about it. */
export interface ShotQuestion {
  readonly bytes: Uint8Array;
  /** Name only, for sentences. */
  readonly file: string;
  readonly sha256?: string;
  readonly sidecarText?: string;
  /** Wins over `sidecarText`. */
  readonly facts?: ShotFacts;
  readonly marks?: readonly Mark[];
  readonly mapping?: ColumnMapping;
  readonly settings?: Settings;
  /** The shot's part of a longer recording; facts and marks count from its first sample. */
  readonly stretch?: Stretch;
}

export type ShotOutcome =
  | {
      readonly status: "ok";
      readonly inspection: RecordingInspection;
      readonly facts: ShotFacts;
      readonly shot: Shot;
      readonly measures: readonly Measure[];
      readonly findings: readonly Finding[];
      readonly provenance: Provenance;
    }
  | {
      /** The recording is sound, but nobody said hand and target: loads only. */
      readonly status: "needs-facts";
      readonly inspection: RecordingInspection;
      readonly loads: readonly PlateLoad[];
      readonly measures: readonly Measure[];
      readonly findings: readonly Finding[];
      readonly provenance: Provenance;
    }
  | {
      readonly status: "error";
      readonly code: string;
      readonly sentence: string;
      readonly remedy: string;
      readonly inspection?: RecordingInspection;
    };

const SIDECAR_MISSING: Finding = {
  code: "sidecar-missing",
  severity: "note",
  sentence:
    "Nobody has said which way the target is, which hand the player is and which foot stands on which plate, so only loads, pressure per plate and weight are given.",
  remedy:
    "Put a shot sidecar beside the recording (NAME.shot.json), or name one with --sidecar, or fill in the form on the page.",
};

const SIDECAR_DONE = { findings: [] as readonly Finding[] };

function factsOf(question: ShotQuestion): { readonly facts?: ShotFacts; readonly findings: readonly Finding[] } {
  if (question.facts) return { ...SIDECAR_DONE, facts: question.facts };
  if (question.sidecarText === undefined) return { findings: [SIDECAR_MISSING] };
  return shotFactsFromSidecar(question.sidecarText, { file: question.file });
}

function withoutFacts(
  recording: Recording,
  said: readonly Finding[],
  settings: Settings,
): { measures: readonly Measure[]; loads: readonly PlateLoad[]; findings: readonly Finding[] } {
  const result = loads(recording, settings);
  return {
    measures: result.measures,
    loads: result.plates,
    findings: [...recording.findings, ...recording.guesses, ...result.findings, ...said],
  };
}

/** A shot with its stand before and after lasts seconds; common practice, no source. */
const LONGEST_SHOT_S = 120;

function tooLong(file: string, durationS: number): UnderfootError {
  return new UnderfootError({
    code: "recording-too-long",
    sentence: `${file} lasts ${Math.round(durationS)} s; one shot is looked for in at most ${LONGEST_SHOT_S} s.`,
    remedy: "Cut the recording to the shot, from about 4 s before it to 3 s after.",
    where: { file },
  });
}

/** From bytes to measures. Faults in the input come back as `error`; a broken promise between functions is still thrown. */
export function shotOutcome(question: ShotQuestion): ShotOutcome {
  const settings = question.settings ?? DEFAULT_SETTINGS;
  let seen: RecordingInspection | undefined;
  try {
    const whole = recordingFromBytes(question.bytes, {
      file: question.file,
      ...(question.mapping ? { mapping: question.mapping } : {}),
    });
    const recording = question.stretch ? recordingStretch(whole, question.stretch) : whole;
    seen = inspection(recording);
    const { facts: written, findings: said } = factsOf(question);
    const provenance = provenanceOf(settings, question.sha256);
    if (!written)
      return { status: "needs-facts", inspection: seen, ...withoutFacts(recording, said, settings), provenance };
    if (seen.durationS > LONGEST_SHOT_S) throw tooLong(question.file, seen.durationS);
    const facts = question.marks?.length ? withMarks(written, question.marks) : written;
    const conflicts = sidecarFindings(facts, recording, {
      file: question.file,
      ...(question.sha256 ? { sha256: question.sha256 } : {}),
    });
    const shot = shotFromRecording(recording, facts, settings);
    const measures = measuresFromShot(shot);
    const findings = distinct([
      ...recording.findings,
      ...said,
      ...conflicts,
      ...shot.findings,
      ...findingsFromMeasures(shot, measures),
    ]);
    return { status: "ok", inspection: seen, facts, shot, measures, findings, provenance };
  } catch (fault) {
    if (!(fault instanceof UnderfootError)) throw fault;
    return {
      status: "error",
      code: fault.code,
      sentence: fault.message,
      remedy: fault.remedy,
      ...(seen ? { inspection: seen } : {}),
    };
  }
}

/** Reader and mechanics may notice the same thing: said once. */
function distinct(findings: readonly Finding[]): Finding[] {
  const seen = new Set<string>();
  return findings.filter(({ code, where, sentence }) => {
    const key = `${code} ${where?.plate ?? ""} ${where?.channel ?? ""} ${sentence}`;
    if (seen.has(key)) return false;
    seen.add(key);
    return true;
  });
}
