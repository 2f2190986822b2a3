import type { PlayerAxes, Samples } from "@underfoot/domain";
import type { CatalogueEntry } from "./catalogue.ts";
import { type Estimate, notValid, WHY } from "./estimate.ts";
import { STATE, stateAt } from "./player-state.ts";
import type { Moment, ShotMoments } from "./shot-moments.ts";
import { slopeShareOf } from "./slope-share.ts";
import { spreadAt } from "./state-errors.ts";
import { type StateQuantity, stateQuantity } from "./state-quantities.ts";
import { whyNotFormed, whyNotTrusted } from "./validity.ts";

/** Half the stretch over which the load share at an event is averaged, s. */
const SHARE_HALF_S = 0.005;

/** A measure at an event, or in the quiet stance: value on straight lines between samples, uncertainty by perturbation. */
export function measureAt(entry: CatalogueEntry, axes: PlayerAxes | undefined, moments: ShotMoments): Estimate {
  const { shot } = moments;
  const event = entry.event!;
  const moment = event === "address" ? moments.address : moments.events.get(event);
  if (moment === undefined) return notValid(`${event} not found`);
  const quantity = stateQuantity(entry.quantity, axes, shot);
  const why = whyNotFormed(entry.quantity, shot) ?? whyNotTrusted(entry.quantity, shot, moment, event === "address");
  if (why !== undefined || quantity === undefined) return notValid(why ?? WHY.notTraced);
  const value =
    entry.quantity === "lead.share" && event !== "address"
      ? meanAround(quantity, moments, moment.position)
      : quantity(moment.state, 0);
  if (!Number.isFinite(value)) return notValid(whyNotFinite(moment.state, 0));
  const spread = spreadAt(quantity, moment.errors);
  const slopeShare = slopeShareOf(entry, axes, shot, moment.state);
  return {
    value,
    ownVariance:
      spread.noise +
      spread.clock +
      (event === "address"
        ? swayVariance(quantity, moments)
        : timeVariance(quantity, moments, moment) + filterVariance(quantity, moments, moment)),
    sharedVariance: spread.shared,
    ...(slopeShare === undefined ? {} : { slopeShare }),
  };
}

/** Part of the sd over the window by which its mean misses the stance's own (sim): load share and CoP wander slowly ... */
const SWAY_SHARE = 0.6;
/** ... a force does so less, for its mean is a change of the body's speed (sim). */
export const FORCE_SWAY_SHARE = 0.35;
/** Step of the states from which the sd is taken, s. */
const SWAY_STEP_S = 0.02;

/** Variance of a mean over the quiet stance because the stance sways: another window would have given another mean. */
export function swayVariance(
  quantity: StateQuantity,
  { addressRows, shot }: ShotMoments,
  share: number = SWAY_SHARE,
): number {
  const { rows, count } = addressRows;
  const step = Math.max(1, Math.round(SWAY_STEP_S * shot.rateHz));
  let n = 0;
  let sum = 0;
  let squares = 0;
  const origin = quantity(rows, 0);
  for (let row = 0; row < count; row += step) {
    const value = quantity(rows, row * STATE.size) - origin;
    if (!Number.isFinite(value)) continue;
    n += 1;
    sum += value;
    squares += value * value;
  }
  return n < 2 ? 0 : (share ** 2 * Math.max(0, squares - (sum * sum) / n)) / (n - 1);
}

/**
 * Why a state gives no number although nothing forbids it. Forces without moments: the plate has none. Otherwise a gap,
 * here or in the samples beside it that a mean takes in.
 */
export function whyNotFinite(w: Samples, o: number): string {
  const hasForces = Number.isFinite(w[o + STATE.up]! + w[o + STATE.trail + STATE.up]!);
  const hasMoments = [0, STATE.trail].every((foot) =>
    Number.isFinite(w[o + foot + STATE.bTarget]! + w[o + foot + STATE.turn]!),
  );
  return hasForces && !hasMoments ? WHY.noMoments : WHY.gap;
}

function meanAround(quantity: StateQuantity, { rows, shot }: ShotMoments, position: number): number {
  const half = SHARE_HALF_S * shot.rateHz;
  const first = Math.ceil(position - half);
  const last = Math.floor(position + half);
  if (last < first) return quantity(stateAt(rows, position, new Float64Array(STATE.size)), 0);
  let sum = 0;
  for (let i = first; i <= last; i++) {
    const row = i - rows.first;
    sum += row >= 0 && row < rows.count ? quantity(rows.rows, row * STATE.size) : Number.NaN;
  }
  return sum / (last - first + 1);
}

/**
 * Variance from not knowing when: with A = (q(t+sd) - q(t-sd)) / 2 and B = q(t+sd) + q(t-sd) - 2 q(t), A² + 0.75 B²,
 * exact to second order for a normal error of time.
 */
function timeVariance(quantity: StateQuantity, { rows }: ShotMoments, moment: Moment): number {
  if (moment.sigmaSamples === 0) return 0;
  const at = (position: number): number => quantity(stateAt(rows, position, new Float64Array(STATE.size)), 0);
  return varianceOfTime(
    at(moment.position - moment.sigmaSamples),
    quantity(moment.state, 0),
    at(moment.position + moment.sigmaSamples),
  );
}

/** The same from the three values themselves. Outside the recording nothing is known: 0 is added. */
export function varianceOfTime(before: number, here: number, after: number): number {
  const a = (after - before) / 2;
  const b = after + before - 2 * here;
  const variance = a * a + 0.75 * b * b;
  return Number.isFinite(variance) ? variance : 0;
}

/** Half the change between the cut-off and twice the cut-off, squared: what the filter may have taken away there. */
function filterVariance(quantity: StateQuantity, { wideRows }: ShotMoments, moment: Moment): number {
  if (wideRows === undefined) return 0;
  const wide = quantity(stateAt(wideRows, moment.position, new Float64Array(STATE.size)), 0);
  const change = (wide - quantity(moment.state, 0)) / 2;
  return Number.isFinite(change) ? change * change : 0;
}
