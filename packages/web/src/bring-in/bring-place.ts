import type { ShotFacts } from "@underfoot/domain";
import { type ColumnMapping, columnMappingText, sidecarText } from "@underfoot/formats";
import type { BringInAsk } from "@underfoot/protocol";
import type { BringTask } from "./bringing.ts";
import type { FileGroup } from "./file-groups.ts";
import type { Understood } from "./group-look.tsx";
import type { PickedRecording } from "./picked-folders.ts";

/** Where the shots go. */
export type BringPlace =
  /** Into the session of the player that each sidecar names, on the day its file was last written. */
  | { readonly kind: "said" }
  | { readonly kind: "session"; readonly sessionId: string | undefined }
  | { readonly kind: "new"; readonly playerId: string | undefined; readonly day: string };

/** What still has to be chosen, or undefined. */
export function lackingPlace(place: BringPlace): string | undefined {
  if (place.kind === "session" && place.sessionId === undefined) return "Choose a session.";
  if (place.kind === "new" && place.playerId === undefined) return "Choose a player.";
  return place.kind === "new" && place.day === "" ? "Give the day of the session." : undefined;
}

/** A time as the day at this place, YYYY-MM-DD. */
export function dayText(timeMs: number): string {
  const at = new Date(timeMs);
  const two = (value: number): string => String(value).padStart(2, "0");
  return `${at.getFullYear()}-${two(at.getMonth() + 1)}-${two(at.getDate())}`;
}

function placeAsk(place: BringPlace, { file }: PickedRecording): BringInAsk {
  switch (place.kind) {
    case "said":
      return { isSessionOfDay: true, day: dayText(file.lastModified) };
    case "session":
      return place.sessionId === undefined ? {} : { sessionId: place.sessionId };
    case "new":
      return {
        isSessionOfDay: true,
        day: place.day,
        ...(place.playerId === undefined ? {} : { playerId: place.playerId }),
      };
  }
}

export interface TaskOptions {
  readonly place: BringPlace;
  /** For recordings without a sidecar. */
  readonly facts: ShotFacts | undefined;
  readonly isDryRun: boolean;
  readonly isCutOffTaken: boolean;
}

const json = (text: string): Record<string, unknown> => JSON.parse(text) as Record<string, unknown>;

/** What is asked of one file: where to, by which mapping, and what no file says of it. */
export function bringTask(
  recording: PickedRecording,
  { rateHz, mapping }: { readonly rateHz: number; readonly mapping: ColumnMapping | undefined },
  { place, facts, isDryRun, isCutOffTaken }: TaskOptions,
): BringTask {
  const isFactless = recording.sidecar === undefined && facts !== undefined;
  return {
    recording,
    rateHz,
    ask: {
      ...placeAsk(place, recording),
      ...(mapping === undefined
        ? {}
        : { mapping: json(columnMappingText({ ...mapping, name: mapping.name || "said when brought in" })) }),
      ...(isFactless ? { facts: json(sidecarText(facts)) } : {}),
      ...(isDryRun ? { isDryRun } : {}),
      ...(isCutOffTaken ? { isCutOffTaken } : {}),
    },
  };
}

/** A kind of file whose columns are understood: its files can be brought in. */
export function isUnderstood({ format }: FileGroup, understood: Understood | undefined): boolean {
  const look = understood?.look;
  if (look === undefined) return false;
  // What is wrong with one C3D file need not be wrong with the others: each is judged when it is brought in.
  if (format === "c3d") return true;
  return look.status === "looked" && look.refusal === undefined && understood?.mapping !== undefined;
}
