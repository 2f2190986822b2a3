import { resolve } from "node:path";
import { type Call, type Command, portOf } from "../command.ts";
import { serveUntilStopped } from "../serve-until-stopped.ts";
import { UsageFault } from "../usage-fault.ts";

const HELP = `underfoot serve [FOLDER] [--port N] [--no-open]

Shows a folder of recordings (with their NAME.shot.json) in the browser, on this machine only.
Without FOLDER: the folder you are in. Other recordings can be dropped on the page; they are computed there
and sent nowhere. Stop with Ctrl+C.

  underfoot serve day1
  underfoot serve day1 --port 0     any free port

Hitting from tilted plates can slip or strain: secure the plates and the stance, keep within the plates' rated
load, stop at pain. A measure is no diagnosis; injury or pain belongs with a licensed clinician.
`;

async function run(call: Call): Promise<number> {
  if (call.files.length > 1) throw new UsageFault("Name one folder.");
  const port = portOf(call);
  return serveUntilStopped({
    folder: resolve(call.files[0] ?? "."),
    port,
    isDemo: false,
    mayOpen: !call.switches.has("no-open"),
  });
}

export const serve: Command = {
  name: "serve",
  summary: "show a folder of recordings in the browser, on this machine only",
  help: HELP,
  options: { port: { type: "string" }, "no-open": { type: "boolean" } },
  run,
};
