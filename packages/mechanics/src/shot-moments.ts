import type { Column, EventName } from "@underfoot/domain";
import { addressState, STATE, type StateRows, stateAt, stateRows, stateRowsOfTwiceTheCutoff } from "./player-state.ts";
import type { Shot, ShotEvent } from "./shot.ts";
import { filteredNoiseShare, type StateErrors, stateErrors } from "./state-errors.ts";

/** An instant of the shot with everything that measures at it need. */
export interface Moment {
  /** In samples of the recording. */
  readonly position: number;
  /** One sigma of when it is, in samples. */
  readonly sigmaSamples: number;
  readonly state: Column;
  readonly errors: StateErrors;
}

/** A shot made ready for its measures: states around the swing, the moments of its events. */
export interface ShotMoments {
  readonly shot: Shot;
  readonly rows: StateRows;
  /** The same with twice the cut-off; undefined where nothing was filtered. */
  readonly wideRows: StateRows | undefined;
  /** The quiet stance: mean state of the address window. */
  readonly address: Moment;
  /** States of the filtered wrench over the address window: what the stance sways. */
  readonly addressRows: StateRows;
  /** The other events that were found. */
  readonly events: ReadonlyMap<EventName, Moment & { readonly event: ShotEvent }>;
  /** Curves over the rows that were asked for already, by quantity and axes: many measures look at the same one. */
  readonly curves: Map<string, Column>;
}

/** What lies around the events, s: for event times that may be wrong, for the 50 ms slopes and the 10 Hz path. */
const AROUND_S = 0.6;

export function shotMoments(shot: Shot): ShotMoments {
  const times = shot.events.filter(({ event }) => event !== "address").map(({ timeS }) => timeS);
  const firstS = times.length === 0 ? 0 : Math.min(...times);
  const lastS = times.length === 0 ? 0 : Math.max(...times);
  const rows = stateRows(
    shot,
    Math.floor((firstS - AROUND_S) * shot.rateHz),
    Math.ceil((lastS + AROUND_S) * shot.rateHz) + 1,
  );
  const events = new Map<EventName, Moment & { readonly event: ShotEvent }>();
  for (const event of shot.events) {
    if (event.event === "address") continue;
    const sigmaSamples = (event.sigmaMs / 1000) * shot.rateHz;
    events.set(event.event, { ...momentAt(shot, rows, event.timeS * shot.rateHz), sigmaSamples, event });
  }
  const state = addressState(shot);
  return {
    shot,
    rows,
    wideRows: stateRowsOfTwiceTheCutoff(shot, rows),
    address: {
      position: (shot.address.first + shot.address.end - 1) / 2,
      sigmaSamples: 0,
      state,
      errors: stateErrors(shot, state, { clockSlope: undefined, noiseShare: 0 }),
    },
    addressRows: stateRows(shot, shot.address.first, shot.address.end),
    events,
    curves: new Map(),
  };
}

/** The moment at a position in samples of the recording, with the filtered noise in it. */
export function momentAt(shot: Shot, rows: StateRows, position: number): Moment {
  const state = stateAt(rows, position, new Float64Array(STATE.size));
  const errors = stateErrors(shot, state, {
    clockSlope: clockSlope(shot, rows, position),
    noiseShare: filteredNoiseShare(shot),
  });
  return { position, sigmaSamples: 0, state, errors };
}

/** The same errors but for noise: for measures that are made of several moments (`jointSpread`). */
export function jointErrorsAt(shot: Shot, rows: StateRows, position: number): StateErrors {
  const state = stateAt(rows, position, new Float64Array(STATE.size));
  return stateErrors(shot, state, { clockSlope: clockSlope(shot, rows, position), noiseShare: 0 });
}

/** Half the change of the state over one sigma of the clock to both sides; zero where there is one clock. */
function clockSlope(shot: Shot, rows: StateRows, position: number): Column {
  const slope = new Float64Array(STATE.size);
  const sigma = (shot.clockSigmaMs / 1000) * shot.rateHz;
  if (sigma === 0) return slope;
  const after = stateAt(rows, position + sigma, new Float64Array(STATE.size));
  const before = stateAt(rows, position - sigma, new Float64Array(STATE.size));
  for (let j = 0; j < STATE.pitch; j++) slope[j] = (after[j]! - before[j]!) / 2;
  return slope;
}
