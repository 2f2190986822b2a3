import { UnderfootError } from "@underfoot/domain";
import type { Library, Player } from "@underfoot/library";

/** The player with a code. */
export async function playerByCode(library: Library, code: string): Promise<Player> {
  const player = await library.players.byCode(code);
  if (player) return player;
  const codes = (await library.players.list()).map((one) => one.code);
  throw new UnderfootError({
    code: "no-such-player",
    sentence: `There is no player ${code} in this library; it has ${codes.length === 0 ? "none yet" : codes.slice(0, 20).join(", ")}.`,
    remedy: "Choose one of these; a sidecar that names a player adds it when its recording is brought in.",
  });
}
