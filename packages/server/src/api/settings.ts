import { isAbsolute, join } from "node:path";
import type { Library } from "@underfoot/library";
import { DEFAULT_SETTINGS } from "@underfoot/mechanics";
import { routes } from "@underfoot/protocol";
import { serverFaults } from "../refusals/faults.ts";
import { apiRoom } from "./api-room.ts";
import { settingsPart } from "./settings-between.ts";
import { sent } from "./shapes-between.ts";

async function settingsAnswer({ settings, folder }: Library) {
  const backupFolder = await settings.backupFolder(folder);
  return {
    mechanics: { ...(await settings.mechanics()) },
    defaults: { ...DEFAULT_SETTINGS },
    backupFolder,
    isBackupFolderDefault: backupFolder === join(folder, "backups"),
  };
}

export const settingsApi = () =>
  apiRoom()
    .openapi(routes.readSettings, async (c) => c.json(await settingsAnswer(c.var.library), 200))
    .openapi(routes.changeSettings, async (c) => {
      const { library } = c.var;
      const { mechanics = {}, backupFolder } = c.req.valid("json");
      const part = settingsPart(mechanics);
      if (typeof backupFolder === "string" && !isAbsolute(backupFolder)) throw serverFaults.notWholePath(backupFolder);
      if (Object.keys(part).length > 0) await library.settings.setMechanics(part);
      if (backupFolder !== undefined) await library.settings.set("backupFolder", backupFolder ?? undefined);
      return c.json(await settingsAnswer(library), 200);
    })
    .openapi(routes.settingsReach, async (c) => c.json(sent(await c.var.library.results.reach()), 200));
