import type { z } from "@hono/zod-openapi";
import { UnderfootError } from "@underfoot/domain";
import type { PlateCheckAsked } from "@underfoot/pipeline";
import { plateCheck } from "@underfoot/pipeline";
import { checkAsk, routes } from "@underfoot/protocol";
import { checkedSidecar } from "../refusals/bounded-body.ts";
import { serverFaults } from "../refusals/faults.ts";
import { apiRoom } from "./api-room.ts";
import { askOfForm, recordingOfForm } from "./ask-of-form.ts";
import { checkFacts } from "./check-facts.ts";
import { given, sent } from "./shapes-between.ts";

type Asked = z.output<typeof checkAsk>;

/** Which check, and what it wants beside the set-up. */
function askedOf({ kind, massKg, plate, place, foot }: Asked): PlateCheckAsked {
  switch (kind) {
    case "known-mass":
      if (massKg === undefined)
        throw serverFaults.wrongRequest('In the form, "ask.massKg" is missing: the known mass.');
      return { kind, massKg, ...given({ plate }), ...(place === undefined ? {} : { places: [place] }) };
    case "outlines":
      return { kind, ...given({ foot }) };
    default:
      return { kind };
  }
}

export const checksApi = () =>
  apiRoom()
    .openapi(routes.listChecks, async (c) => {
      const { library } = c.var;
      const { id } = await library.sessions.byId(c.req.valid("param").id);
      return c.json(sent(await library.checks.ofSession(id)), 200);
    })
    .openapi(routes.addCheck, async (c) => {
      const { library } = c.var;
      const session = await library.sessions.byId(c.req.valid("param").id);
      const form = c.req.valid("form");
      const ask = askOfForm(checkAsk, form.ask);
      const recording = await recordingOfForm(form.recording);
      const { mappingName, lieName, target } = ask;
      const mapping = await (mappingName === undefined
        ? library.mappings.fitting(recording)
        : library.mappings.byName(mappingName));
      const { facts, factsFrom } = await checkFacts(library, {
        ...{ session, lieName, target },
        sidecarText: checkedSidecar(form.sidecar),
      });
      const outcome = plateCheck({
        ...askedOf(ask),
        ...{ bytes: recording.bytes, file: recording.fileName, facts },
        settings: await library.settings.mechanics(),
        ...(mapping ? { mapping } : {}),
      });
      if (outcome.status !== "ok") throw new UnderfootError({ ...outcome, code: `check-${outcome.code}` });
      const { kind, allowed, found, unit, isPassed, ...detail } = outcome;
      const recordingSha256 = await library.keepRecording({ ...recording, mapping });
      const check = await library.checks.add({
        ...{ sessionId: session.id, kind, allowed, found, unit, isPassed, recordingSha256 },
        detail: { ...detail, factsFrom },
      });
      return c.json(sent(check), 201);
    })
    .openapi(routes.goOnAnyway, async (c) =>
      c.json(sent(await c.var.library.checks.goOnAnyway(c.req.valid("param").id, c.req.valid("json").note)), 200),
    );
