import { type Call, type Command, portOf } from "../command.ts";
import { LIBRARY_HELP, libraryPlace } from "../library-place.ts";
import { serveUntilStopped } from "../serve-until-stopped.ts";
import { UsageFault } from "../usage-fault.ts";

const HELP = `underfoot serve [--port N] [--no-open] [--library DIR]

Shows the library in the browser, on this machine only: plan a session, bring recordings in, find shots, look at a
player over the sessions. A library that is not there yet is made. Stop with Ctrl+C.

${LIBRARY_HELP}

  underfoot serve
  underfoot serve --port 0     any free port

Hitting from tilted plates can slip or strain: secure the plates and the stance, keep within the plates' rated
load, stop at pain. A measure is no diagnosis; injury or pain belongs with a licensed clinician.
`;

async function run(call: Call): Promise<number> {
  const [folder] = call.files;
  if (folder !== undefined)
    throw new UsageFault(
      `serve shows the library; bring the recordings of ${folder} into it first: underfoot import ${folder}`,
    );
  const port = portOf(call);
  return serveUntilStopped({
    place: () => libraryPlace(call.values["library"]),
    port,
    isDemo: false,
    mayOpen: !call.switches.has("no-open"),
  });
}

export const serve: Command = {
  name: "serve",
  summary: "show the library in the browser, on this machine only",
  help: HELP,
  options: { library: { type: "string" }, port: { type: "string" }, "no-open": { type: "boolean" } },
  run,
};
