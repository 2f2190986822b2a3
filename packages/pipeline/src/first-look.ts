import { type Finding, type Recording, type Sense, type ShotFacts, UnderfootError } from "@underfoot/domain";
import {
  type ColumnFingerprint,
  type ColumnMapping,
  columnFingerprint,
  columnMappingText,
  type MappingProposal,
  mappingProposal,
  recordingFormat,
  recordingFromBytes,
  shotFactsFromSidecar,
  type TextColumn,
  type TextSniff,
  textSniff,
} from "@underfoot/formats";
import { inspection } from "./inspection.ts";
import { c3dGuesses, type LookedGuess, textGuess } from "./looked-guess.ts";
import { type QuietStance, quietStance, refusalOf } from "./quiet-stance.ts";

/** A file to be looked at before anything of it is stored. */
export interface FirstLookQuestion {
  readonly bytes: Uint8Array;
  /** Name only, for sentences. */
  readonly file: string;
  /** For delimited text; a draft may still have holes. Left out: the proposal is tried. */
  readonly mapping?: ColumnMapping;
  readonly sidecarText?: string;
}

/** One channel or column as it stands in the file, and what it is taken for. */
export interface LookedColumn {
  readonly name: string;
  /** As written; empty where there is none. */
  readonly unit: string;
  readonly guess: LookedGuess;
  readonly why: string;
  /** The first second: least and largest value of each of up to 60 stretches, one after the other; NaN where missing. */
  readonly trace: readonly number[];
  readonly least: number;
  readonly largest: number;
}

interface LookedPlate {
  readonly index: number;
  readonly centreM: { readonly x: number; readonly y: number; readonly z: number };
  readonly storedAs: Sense | undefined;
}

export interface LookedFile {
  readonly status: "looked";
  readonly format: Recording["format"];
  readonly key: string;
  /** NaN where nothing says it yet. */
  readonly rateHz: number;
  readonly samples: number;
  readonly columns: readonly LookedColumn[];
  /** Those that can be computed. */
  readonly plates: readonly LookedPlate[];
  readonly stance?: QuietStance;
  /** Why there is no stance yet: what the mapping lacks, or why its columns cannot be read. */
  readonly refusal?: Omit<Finding, "severity">;
  /** What the sidecar says. */
  readonly facts?: ShotFacts;
  /** Delimited text: the mapping that was tried and what only a person can answer. */
  readonly mapping?: ColumnMapping;
  readonly questions: readonly Finding[];
  readonly findings: readonly Finding[];
  /** What was guessed and changes a force, a moment, a place or a time. */
  readonly guesses: readonly Finding[];
}

export type FirstLook =
  | LookedFile
  | { readonly status: "error"; readonly code: string; readonly sentence: string; readonly remedy: string };

const TRACE_S = 1;
const TRACE_STRETCHES = 60;
/** So many rows are shown where nothing says how many a second are. */
const ROWS_WITHOUT_RATE = 1000;

/**
 * The first second of every channel, what each is taken for and why, and the quiet stance as understood.
 * Reads the whole file; stores nothing. Faults of the file come back as `status: "error"`.
 */
export function firstLook(question: FirstLookQuestion): FirstLook {
  try {
    const { bytes, file } = question;
    const isText = recordingFormat(bytes, file) === "text" && !/\.c3d$/i.test(file);
    const said = saidBy(question);
    return isText ? textLook(question, said) : c3dLook(question, said);
  } catch (fault) {
    if (!(fault instanceof UnderfootError)) throw fault;
    return { status: "error", code: fault.code, sentence: fault.message, remedy: fault.remedy };
  }
}

/** What kind of file it is, by its first bytes. */
export function firstKind(question: {
  readonly bytes: Uint8Array;
  readonly file: string;
  readonly isWhole: boolean;
}): ({ readonly status: "known" } & ColumnFingerprint) | Extract<FirstLook, { status: "error" }> {
  try {
    return { status: "known", ...columnFingerprint(question.bytes, question) };
  } catch (fault) {
    if (!(fault instanceof UnderfootError)) throw fault;
    return { status: "error", code: fault.code, sentence: fault.message, remedy: fault.remedy };
  }
}

interface Said {
  readonly facts?: ShotFacts;
  readonly findings: readonly Finding[];
}

/** A broken sidecar hides no column: its fault is one more finding. */
function saidBy({ sidecarText, file }: FirstLookQuestion): Said {
  if (sidecarText === undefined) return { findings: [] };
  try {
    return shotFactsFromSidecar(sidecarText, { file: `The sidecar of ${file}` });
  } catch (fault) {
    if (!(fault instanceof UnderfootError)) throw fault;
    return { findings: [{ ...refusalOf(fault), severity: "stop" }] };
  }
}

function c3dLook({ bytes, file }: FirstLookQuestion, said: Said): LookedFile {
  const recording = recordingFromBytes(bytes, { file });
  const { plates } = inspection(recording);
  const guesses = c3dGuesses(recording, plates);
  const columns = recording.channels.map((channel, k): LookedColumn => {
    const { guess, why } = guesses[k] ?? { guess: { part: channel.role }, why: "" };
    return { name: channel.label, unit: channel.unit, guess, why, ...tracedFrom(channel.values, recording.rateHz) };
  });
  return {
    ...understood(recording, said, plates),
    key: columnFingerprint(bytes, { file, isWhole: true }).key,
    columns,
    questions: [],
  };
}

/** What a recording whose columns are understood shows. */
function understood(
  recording: Recording,
  said: Said,
  plates = inspection(recording).plates,
): Omit<LookedFile, "key" | "columns" | "questions" | "mapping" | "refusal"> {
  const { stance, findings } = quietStance(recording, said.facts);
  return {
    status: "looked",
    format: recording.format,
    rateHz: recording.rateHz,
    samples: recording.sampleCount,
    plates: plates.flatMap(({ index, centreM, storedAs, loadN }) => (loadN ? [{ index, centreM, storedAs }] : [])),
    ...(stance ? { stance } : {}),
    ...(said.facts ? { facts: said.facts } : {}),
    findings: [...said.findings, ...distinct([...recording.findings, ...findings])],
    guesses: recording.guesses,
  };
}

const distinct = (findings: readonly Finding[]): readonly Finding[] =>
  findings.filter((one, k) => findings.findIndex(({ sentence }) => sentence === one.sentence) === k);

function textLook({ bytes, file, mapping: given }: FirstLookQuestion, said: Said): LookedFile {
  const sniff = textSniff(bytes, given?.text ?? {}, { file });
  const proposal: MappingProposal = mappingProposal(sniff);
  const mapping = given ?? proposal.mapping;
  const { key } = columnFingerprint(bytes, { file, isWhole: true });
  const rateHz = rateOf(mapping, sniff);
  const raw = rawColumns(bytes, { file, sniff, mapping, rateHz });
  const columns = sniff.columns.map(
    (column): LookedColumn => ({
      name: column.name,
      unit: column.unit,
      ...textGuess(column, sniff, { mapping, proposed: proposal.mapping }),
      ...tracedFrom(raw.get(column.name) ?? column.first, rateHz),
    }),
  );
  const common = { key, columns, mapping, questions: given === undefined ? proposal.questions : [] };
  try {
    columnMappingText({ ...mapping, name: mapping.name || "draft" });
    const recording = recordingFromBytes(bytes, { file, mapping });
    if (recording.plates.length > 0) return { ...understood(recording, said), ...common };
    return { ...unread(said, { samples: recording.sampleCount, rateHz }), ...common, refusal: NO_PLATES };
  } catch (fault) {
    if (!(fault instanceof UnderfootError)) throw fault;
    const samples = [...raw.values()][0]?.length ?? sniff.lineCount;
    return { ...unread(said, { samples, rateHz }), ...common, refusal: refusalOf(fault) };
  }
}

const NO_PLATES: Omit<Finding, "severity"> = {
  code: "mapping-no-plates",
  sentence: "No column is a force of a plate yet.",
  remedy: "Give each force column its plate and its direction.",
};

function unread(said: Said, { samples, rateHz }: { readonly samples: number; readonly rateHz: number }) {
  return {
    ...{ status: "looked" as const, format: "text" as const, rateHz, samples, plates: [], guesses: [] },
    ...(said.facts ? { facts: said.facts } : {}),
    findings: said.findings,
  };
}

function rateOf(mapping: ColumnMapping, sniff: TextSniff): number {
  if ("rateHz" in mapping.time) return mapping.time.rateHz;
  return sniff.time?.value.column === mapping.time.column ? sniff.time.value.rateHz : Number.NaN;
}

const isNumeric = ({ kind }: TextColumn): boolean => kind !== "word";

/** Every column of numbers as written, by name; none where a row does not fit: the first rows then serve. */
function rawColumns(
  bytes: Uint8Array,
  {
    file,
    sniff,
    mapping,
    rateHz,
  }: {
    readonly file: string;
    readonly sniff: TextSniff;
    readonly mapping: ColumnMapping;
    readonly rateHz: number;
  },
): ReadonlyMap<string, Float64Array> {
  const names = sniff.columns.filter(isNumeric).map(({ name }) => name);
  const asWritten: ColumnMapping = {
    name: "as written",
    match: { columns: names },
    text: mapping.text,
    time: { rateHz: Number.isFinite(rateHz) && rateHz > 0 ? rateHz : 1 },
    plates: [],
    extra: names.map((column) => ({ column, role: "other", unit: "" })),
  };
  try {
    const { channels } = recordingFromBytes(bytes, { file, mapping: asWritten, badRows: "cut" });
    return new Map(channels.map(({ label, values }) => [label, Float64Array.from(values)]));
  } catch (fault) {
    if (!(fault instanceof UnderfootError)) throw fault;
    return new Map();
  }
}

/** Least and largest of each stretch of the first second: no peak is lost. */
function tracedFrom(values: ArrayLike<number>, rateHz: number): Pick<LookedColumn, "trace" | "least" | "largest"> {
  const wanted = Number.isFinite(rateHz) && rateHz > 0 ? Math.round(TRACE_S * rateHz) : ROWS_WITHOUT_RATE;
  const count = Math.min(values.length, Math.max(1, wanted));
  const stretches = Math.min(TRACE_STRETCHES, count);
  const trace: number[] = [];
  for (let s = 0; s < stretches; s++) {
    const [least, largest] = extent(
      values,
      Math.floor((s * count) / stretches),
      Math.floor(((s + 1) * count) / stretches),
    );
    trace.push(least, largest);
  }
  const [least, largest] = extent(values, 0, count);
  return { trace, least, largest };
}

function extent(values: ArrayLike<number>, first: number, end: number): readonly [number, number] {
  let least = Number.NaN;
  let largest = Number.NaN;
  for (let i = first; i < end; i++) {
    const value = values[i] ?? Number.NaN;
    if (Number.isNaN(value)) continue;
    if (!(value >= least)) least = value;
    if (!(value <= largest)) largest = value;
  }
  return [least, largest];
}
