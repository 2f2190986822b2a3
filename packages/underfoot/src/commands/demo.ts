import { type Call, type Command, portOf } from "../command.ts";
import { dataFolder } from "../data-folder.ts";
import { filledDemoLibrary } from "../demo-library.ts";
import { serveUntilStopped } from "../serve-until-stopped.ts";

const HELP = `underfoot demo [--library DIR] [--port N] [--no-open]

Fills a library of invented shots on first run (invented players, physics-true forces, the truth beside them) and
shows it in the browser, on this machine only. Nothing in it was hit by a real person. Stop with Ctrl+C.

  --library DIR   where the demo lies; as left out: ${dataFolder()}
`;

async function run(call: Call): Promise<number> {
  const port = portOf(call);
  const parent = call.values["library"] ?? dataFolder();
  return serveUntilStopped({
    place: async () => ({ folder: await filledDemoLibrary(parent) }),
    port,
    isDemo: true,
    mayOpen: !call.switches.has("no-open"),
  });
}

export const demo: Command = {
  name: "demo",
  summary: "fill a library of invented shots and show it",
  help: HELP,
  options: { library: { type: "string" }, port: { type: "string" }, "no-open": { type: "boolean" } },
  run,
};
