import { VERSION } from "@underfoot/domain";
import type { Library } from "@underfoot/library";
import { routes } from "@underfoot/protocol";
import type { LibrarySeat } from "../library-seat.ts";
import { serverFaults } from "../refusals/faults.ts";
import { apiRoom } from "./api-room.ts";

interface AboutOptions {
  readonly seat: LibrarySeat;
  readonly isDemo: boolean;
  /** ms since 1970. */
  readonly clock: () => number;
  /** Told once another library is open. */
  readonly onMoved: (folder: string) => void;
}

/** The day where the library stands. */
function dayAt(ms: number): string {
  const at = new Date(ms);
  const digits = (value: number): string => String(value).padStart(2, "0");
  return `${at.getFullYear()}-${digits(at.getMonth() + 1)}-${digits(at.getDate())}`;
}

export function aboutApi({ seat, isDemo, clock, onMoved }: AboutOptions) {
  const about = ({ folder, engine }: Library) => ({
    ...{ software: "Underfoot", version: VERSION, isDemo, folder, engine },
    day: dayAt(clock()),
  });
  return apiRoom()
    .openapi(routes.about, (c) => c.json(about(c.var.library), 200))
    .openapi(routes.changePlace, async (c) => {
      if (isDemo) throw serverFaults.demoStays();
      await seat.moveTo(c.req.valid("json").folder);
      return c.json(
        await seat.use(async (library) => {
          onMoved(library.folder);
          return about(library);
        }),
        200,
      );
    });
}
