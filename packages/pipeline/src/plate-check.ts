import { type Recording, UnderfootError } from "@underfoot/domain";
import { type ColumnMapping, recordingFromBytes } from "@underfoot/formats";
import { DEFAULT_SETTINGS, type Settings } from "@underfoot/mechanics";
import { cautionsOf } from "./plate-checks/cautions.ts";
import { checkFaults, FactsNeeded } from "./plate-checks/check-faults.ts";
import {
  outcomeOf,
  type PlateCheckFacts,
  type PlateCheckOutcome,
  type PlateCheckResult,
} from "./plate-checks/check-outcome.ts";
import { clockCheck } from "./plate-checks/clock-check.ts";
import { type KnownMassAsked, knownMassCheck } from "./plate-checks/known-mass-check.ts";
import { leanCheck } from "./plate-checks/lean-check.ts";
import { type OutlinesAsked, outlineCheck } from "./plate-checks/outline-check.ts";
import { zeroCheck } from "./plate-checks/zero-check.ts";

/** Which check, and what it wants beside the set-up. */
export type PlateCheckAsked =
  | { readonly kind: "zero" }
  | ({ readonly kind: "known-mass" } & KnownMassAsked)
  | { readonly kind: "quiet-lean" }
  | { readonly kind: "clocks" }
  | ({ readonly kind: "outlines" } & OutlinesAsked);

/** A file as it is, or a recording that was read already. */
export type PlateCheckSource =
  | { readonly bytes: Uint8Array; readonly file: string; readonly mapping?: ColumnMapping }
  | { readonly recording: Recording };

export type PlateCheckQuestion = PlateCheckSource &
  PlateCheckAsked & { readonly facts?: PlateCheckFacts; readonly settings?: Settings };

/** Longer than any check takes; common practice, no source. */
const LONGEST_S = 600;

/**
 * One of the checks that are made before the first shot, computed from a recording of it.
 *
 * - `zero`: nothing on the plates for half a second or more.
 * - `known-mass`: a mass laid still on one place or several; wants the mass and the lie, on a slope target and hand too.
 * - `quiet-lean`: somebody stands still on both plates; wants lie, target, hand, and which plate is under which foot.
 * - `clocks`: a board across both plates is struck, or somebody rocks from foot to foot for 8 s.
 * - `outlines`: a stick or finger goes once round each foot's edge on its plate; wants which plate is under which foot.
 *
 * @returns  each part with what is allowed and found; faults in the input as `error`, facts that are missing as
 *           `needs-facts`; a broken promise between functions is still thrown
 */
export function plateCheck(question: PlateCheckQuestion): PlateCheckOutcome {
  const { kind, facts = {} } = question;
  const cautions = cautionsOf(kind, facts);
  try {
    const recording = "recording" in question ? question.recording : read(question);
    const lengthS = recording.sampleCount / recording.rateHz;
    if (lengthS > LONGEST_S) throw checkFaults.tooLong(lengthS, LONGEST_S);
    return outcomeOf(kind, resultOf(recording, question), cautions);
  } catch (fault) {
    if (!(fault instanceof UnderfootError)) throw fault;
    return {
      status: fault instanceof FactsNeeded ? "needs-facts" : "error",
      kind,
      code: fault.code,
      sentence: fault.message,
      remedy: fault.remedy,
      cautions,
    };
  }
}

function read({ bytes, file, mapping }: Extract<PlateCheckSource, { readonly file: string }>): Recording {
  return recordingFromBytes(bytes, { file, ...(mapping ? { mapping } : {}) });
}

function resultOf(recording: Recording, question: PlateCheckQuestion): PlateCheckResult {
  const { facts = {}, settings = DEFAULT_SETTINGS } = question;
  switch (question.kind) {
    case "zero":
      return zeroCheck(recording, facts, settings);
    case "known-mass":
      return knownMassCheck(recording, { facts, settings, asked: question });
    case "quiet-lean":
      return leanCheck(recording, facts, settings);
    case "clocks":
      return clockCheck(recording, facts, settings);
    case "outlines":
      return outlineCheck(recording, { facts, settings, asked: question });
  }
}
