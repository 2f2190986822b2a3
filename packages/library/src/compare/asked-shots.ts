import {
  type ComparedShot,
  curveColumn,
  type ShotAsk,
  type ShotGroup,
  shotAskFromText,
  textOfShotAsk,
} from "@underfoot/compare";
import { libraryFaults } from "../faults.ts";
import type { Players } from "../records/players.ts";
import type { SessionPlan, Sessions } from "../records/sessions.ts";
import type { ShotQuery } from "../shots/shot-query.ts";
import type { Shots } from "../shots/shots.ts";
import type { ComparedShots } from "./compared-shots.ts";
import type { AskedOfAll } from "./comparisons.ts";

/** Shots as comparisons ask for them, by text. */
export interface AskedShots {
  /** What a text asks for, with the player and session that hold for both sides. */
  askOf(text: string, options: AskedOfAll): ShotAsk;
  group(text: string, options: AskedOfAll, signal?: AbortSignal): Promise<ShotGroup>;
  /** The same without shots of players who did not agree to studies. */
  consenting(text: string, options: AskedOfAll, signal?: AbortSignal): Promise<ShotGroup>;
  /** One shot, and the condition it belongs to within its session. */
  single(
    id: string,
    options: AskedOfAll,
    signal?: AbortSignal,
  ): Promise<{ readonly shot: ComparedShot; readonly group: ShotGroup }>;
  /** The plans of these shots' sessions, and all shots of those sessions in the order they were hit. */
  plans(shots: readonly ComparedShot[]): Promise<{
    readonly plans: ReadonlyMap<string, SessionPlan | undefined>;
    readonly shotsOfPlans: readonly ComparedShot[];
  }>;
}

export interface AskedShotsNeeds {
  readonly players: Players;
  readonly sessions: Sessions;
  readonly shots: Shots;
  readonly compared: ComparedShots;
}

function queryFrom(ask: ShotAsk, playerId: string | undefined): ShotQuery {
  const { session, intent, lie, club, contact, from, to } = ask;
  return {
    ...(playerId === undefined ? {} : { playerId }),
    ...(session === undefined ? {} : { sessionId: session }),
    ...(intent === undefined ? {} : { intent }),
    ...(lie === undefined ? {} : { lieName: lie }),
    ...(club === undefined ? {} : { club }),
    ...(contact === undefined ? {} : { contact }),
    ...(from === undefined ? {} : { fromDay: from }),
    ...(to === undefined ? {} : { toDay: to }),
  };
}

export function askedShots({ players, sessions, shots, compared }: AskedShotsNeeds): AskedShots {
  const askOf: AskedShots["askOf"] = (text, { player, session }) => {
    const ask = shotAskFromText(text);
    if (ask.shot !== undefined) return ask;
    return { ...(player === undefined ? {} : { player }), ...(session === undefined ? {} : { session }), ...ask };
  };

  const found = async (
    ask: ShotAsk,
    options: AskedOfAll,
    signal: AbortSignal | undefined,
  ): Promise<readonly ComparedShot[]> => {
    const player = ask.player === undefined ? undefined : await players.byCode(ask.player);
    if (ask.player !== undefined && player === undefined) throw libraryFaults.notThere("player", ask.player);
    if (ask.session !== undefined) await sessions.byId(ask.session);
    const curves = (options.curves ?? []).map((name) => curveColumn(name, options.axes ?? "turf"));
    return compared.find(queryFrom(ask, player?.id), { curves, ...(signal === undefined ? {} : { signal }) });
  };

  const group: AskedShots["group"] = async (text, options, signal) => {
    const ask = askOf(text, options);
    if (ask.shot === undefined)
      return { name: textOfShotAsk(ask) || "all shots", shots: await found(ask, options, signal) };
    const { shot } = await single(ask.shot, options, signal);
    return { name: textOfShotAsk(ask), shots: [shot] };
  };

  const single: AskedShots["single"] = async (id, options, signal) => {
    const { playerCode, sessionId, intent, lieName, club } = await shots.byId(id);
    const ask: ShotAsk = {
      ...(playerCode === undefined ? {} : { player: playerCode }),
      ...(sessionId === undefined ? {} : { session: sessionId }),
      ...(intent === undefined ? {} : { intent }),
      ...(lieName === undefined ? {} : { lie: lieName }),
      ...(club === undefined ? {} : { club }),
    };
    const own = { name: textOfShotAsk(ask) || "all shots", shots: await found(ask, options, signal) };
    const shot = own.shots.find(({ shotId }) => shotId === id);
    if (shot === undefined) throw libraryFaults.notThere("shot", id);
    return { shot, group: own };
  };

  return {
    askOf,
    group,
    single,
    consenting: async (text, options, signal) => {
      const all = await group(text, options, signal);
      const agreed = new Set(
        (await players.list()).filter(({ consent }) => consent === "study").map(({ code }) => code),
      );
      return { ...all, shots: all.shots.filter(({ player }) => player !== undefined && agreed.has(player)) };
    },
    plans: async (of) => {
      const ids = [...new Set(of.flatMap(({ sessionId }) => (sessionId === undefined ? [] : [sessionId])))];
      const plans = new Map(await Promise.all(ids.map(async (id) => [id, (await sessions.byId(id)).plan] as const)));
      const isAsked = [...plans.values()].some((plan) => plan !== undefined && plan.order !== "as-given");
      // Only a drawn order needs the shots beside these.
      const all = isAsked ? await Promise.all(ids.map((id) => compared.find({ sessionId: id }))) : [];
      return { plans, shotsOfPlans: all.flat() };
    },
  };
}
