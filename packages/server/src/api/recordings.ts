import { UnderfootError } from "@underfoot/domain";
import type { BroughtIn, Library } from "@underfoot/library";
import { shotOutcome } from "@underfoot/pipeline";
import { bringInAsk, routes } from "@underfoot/protocol";
import { checkedSidecar } from "../refusals/bounded-body.ts";
import { apiRoom } from "./api-room.ts";
import { askOfForm, recordingOfForm } from "./ask-of-form.ts";
import { factsFromFields } from "./facts-between.ts";
import { mappingFromFields } from "./mappings.ts";
import { sent } from "./shapes-between.ts";

/** Computes a shot that is on the disk. What goes wrong is said beside it: the shot is stored all the same. */
async function computed(library: Library, shotId: string, log: (fault: Error) => void): Promise<BroughtIn["findings"]> {
  const { key, ...question } = await library.results.question(shotId);
  try {
    await library.results.put(shotId, shotOutcome(question), { key });
    return [];
  } catch (fault) {
    if (fault instanceof UnderfootError) throw fault;
    log(fault instanceof Error ? fault : new Error(String(fault)));
    return [
      {
        code: "not-computed",
        severity: "caution",
        sentence: "The shot is stored, but Underfoot failed to compute it. This is our fault.",
        remedy: "Recompute it later; if it happens again, report it with the recording, if it may be shared.",
        where: { shot: shotId },
      },
    ];
  }
}

export const recordingsApi = (log: (fault: Error) => void) =>
  apiRoom().openapi(routes.bringIn, async (c) => {
    const { library } = c.var;
    const form = c.req.valid("form");
    const { mapping, facts, ...ask } = askOfForm(bringInAsk, form.ask);
    const brought = await library.bringIn({
      ...(await recordingOfForm(form.recording)),
      ...ask,
      sidecarText: checkedSidecar(form.sidecar),
      ...(mapping === undefined ? {} : { mapping: mappingFromFields(mapping) }),
      ...(facts === undefined ? {} : { facts: factsFromFields(facts) }),
      signal: c.req.raw.signal,
    });
    const findings = [...brought.findings];
    for (const { shotId, isDuplicate, gotFacts } of ask.isDryRun ? [] : brought.shots)
      if (shotId !== undefined && (!isDuplicate || gotFacts)) findings.push(...(await computed(library, shotId, log)));
    return c.json(sent({ ...brought, findings }), 201);
  });
