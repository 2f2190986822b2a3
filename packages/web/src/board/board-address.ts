import { CURVES, curveColumn } from "@underfoot/compare";
import type { PlayerAxes } from "@underfoot/domain";
import { type CatalogueEntry, catalogueEntry } from "@underfoot/mechanics";
import { lookedAtFrom, lookedAtQuery } from "../frame/looked-at.ts";

/** Looked at first: how much of the load is on the lead foot at delivery. */
const FIRST_MEASURE = "lead.share.at.delivery";

/** What the board is asked for, and how often these shots were looked at. */
export interface BoardAsk {
  readonly entry: CatalogueEntry;
  /** Undefined where they make no difference to the measure. */
  readonly axes: PlayerAxes | undefined;
  readonly playerId: string | undefined;
  /** Undefined: all of the player's sessions. */
  readonly sessionId: string | undefined;
  /** Ids of the measures looked at on these shots so far, the present one among them. Each is a look. */
  readonly looked: readonly string[];
  /** A measure of the address that is not in the catalogue; it is said. */
  readonly unread: string | undefined;
}

type Query = Readonly<Record<string, string>>;

/** A measure that is a number: a text such as the peak order has no scale. */
const isOnScale = ({ unit, statistic }: CatalogueEntry): boolean => unit !== "" && statistic !== "text";

const firstEntry = (): CatalogueEntry => {
  const entry = catalogueEntry(FIRST_MEASURE);
  if (entry === undefined) throw new RangeError(`the catalogue lacks ${FIRST_MEASURE}`);
  return entry;
};

/** What an address asks for. Left out: lead share at delivery, turf axes, all sessions. */
export function askFromQuery(query: Query): BoardAsk {
  const { measure, measures } = lookedAtFrom(query, FIRST_MEASURE);
  const named = catalogueEntry(measure);
  const entry = named !== undefined && isOnScale(named) ? named : firstEntry();
  return {
    entry,
    axes: entry.axes.find((one) => one === query["axes"]) ?? entry.axes[0],
    ...{ playerId: query["playerId"], sessionId: query["sessionId"] },
    looked: [...new Set([...measures.filter((id) => catalogueEntry(id) !== undefined), entry.id])],
    unread: entry.id === measure ? undefined : measure,
  };
}

/** The query of an address. Another measure of the same shots is one more look; other shots begin anew. */
export function queryFromAsk(ask: BoardAsk): Record<string, string | undefined> {
  const { entry, axes, playerId, sessionId, looked } = ask;
  return { playerId, sessionId, ...lookedAtQuery({ measure: entry.id, measures: looked }), axes };
}

/** The curve that falls in the cells: that of the measure's quantity; undefined where the quantity has none. */
export function curveOfMeasure({ entry, axes }: Pick<BoardAsk, "entry" | "axes">): string | undefined {
  const [place = "", quantity = ""] = entry.id.split(".");
  const id = `${place}.${quantity}`;
  return CURVES.some((curve) => curve.id === id) ? curveColumn(id, axes ?? "turf") : undefined;
}
