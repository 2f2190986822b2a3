import type { ShotFacts } from "@underfoot/domain";
import { shotFactsFromSidecar } from "@underfoot/formats";
import type { Library, Session } from "@underfoot/library";
import type { PlateCheckFacts } from "@underfoot/pipeline";
import { serverFaults } from "../refusals/faults.ts";
import { present } from "./shapes-between.ts";

interface Asked {
  readonly session: Session;
  readonly sidecarText: string | undefined;
  readonly lieName: string | undefined;
  readonly target: readonly [number, number, number] | undefined;
}

export interface SaidOfCheck {
  readonly facts: PlateCheckFacts;
  /** Where target and hand come from, for whoever reads the check later. */
  readonly factsFrom: string;
}

/** Facts of the latest shot of the session that has any: the laboratory and its plates are the same. */
async function latestFacts(library: Library, sessionId: string): Promise<ShotFacts | undefined> {
  const { rows } = await library.shots.find({ sessionId, limit: 1 });
  const [latest] = rows;
  return latest && (await library.shots.byId(latest.id)).facts;
}

/**
 * What is known of the set-up of a check: as its sidecar says, else from the session's player, plates and plan, the
 * rest as it was said of the session's latest shot.
 *
 * @throws UnderfootError with the sentence of the sidecar's reader; no-lie where the plan has no such lie
 */
export async function checkFacts(library: Library, { session, sidecarText, ...asked }: Asked): Promise<SaidOfCheck> {
  if (sidecarText !== undefined)
    return {
      facts: shotFactsFromSidecar(sidecarText, { file: "The check's sidecar" }).facts,
      factsFrom: "the sidecar sent along",
    };
  const { handed } = await library.players.byId(session.playerId);
  const layout = session.layoutId === undefined ? undefined : await library.layouts.byId(session.layoutId);
  const lie = session.plan?.lies.find(({ name }) => name === asked.lieName);
  if (asked.lieName !== undefined && lie === undefined) throw serverFaults.noLie(asked.lieName);
  const earlier = await latestFacts(library, session.id);
  const [x, y, z] = asked.target ?? [];
  const target = x !== undefined && y !== undefined && z !== undefined ? { x, y, z } : earlier?.target;
  return {
    facts: present<PlateCheckFacts>({
      handed,
      target,
      up: earlier?.up,
      lie: lie && { pitchDeg: lie.pitchDeg, rollDeg: lie.rollDeg, source: lie.source, sdDeg: lie.sdDeg },
      plates: layout ? layout.plates.map(({ plate, foot }) => ({ plate, foot })) : earlier?.plates,
      padM: earlier?.padM,
      latitudeDeg: earlier?.latitudeDeg,
      heightM: earlier?.heightM,
    }),
    factsFrom: `the session's player, plates and plan${earlier ? "; the rest as said of its latest shot" : ""}`,
  };
}
