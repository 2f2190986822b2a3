import type { ShotFacts } from "@underfoot/domain";
import { columnMappingText, shotFactsFromSidecar, sidecarText } from "@underfoot/formats";
import type { StoredShot } from "@underfoot/library";
import { type Sent, sent } from "./shapes-between.ts";

type Fields = Record<string, unknown>;

/**
 * Facts as they come in, in the sidecar's format; what a sidecar opens with may be left out.
 *
 * @throws UnderfootError with the sentence of the sidecar's reader
 */
export function factsFromFields(fields: Fields): ShotFacts {
  const text = JSON.stringify({ underfoot: "shot", version: 1, ...fields });
  return shotFactsFromSidecar(text, { file: "What was said of the shot" }).facts;
}

/** Facts as they go out: what a sidecar of the shot would hold. */
export const fieldsFromFacts = (facts: ShotFacts): Fields => JSON.parse(sidecarText(facts)) as Fields;

type ShotAnswer = Omit<Sent<StoredShot>, "facts" | "mapping"> & { facts?: Fields; mapping?: Fields };

export function shotAnswer({ facts, mapping, ...others }: StoredShot): ShotAnswer {
  return {
    ...sent(others),
    ...(facts === undefined ? {} : { facts: fieldsFromFacts(facts) }),
    ...(mapping === undefined ? {} : { mapping: JSON.parse(columnMappingText(mapping)) as Fields }),
  };
}
