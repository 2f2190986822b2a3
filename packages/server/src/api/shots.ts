import { routes } from "@underfoot/protocol";
import { serverFaults } from "../refusals/faults.ts";
import { apiRoom } from "./api-room.ts";
import { factsFromFields, fieldsFromFacts, shotAnswer } from "./facts-between.ts";
import { given, sent } from "./shapes-between.ts";

/** Both ends of a range such as 1,5. */
function range(text: string | undefined): readonly [number, number] | undefined {
  if (text === undefined) return undefined;
  const [from = Number.NaN, to = Number.NaN] = text.split(",").map(Number);
  return [from, to];
}

export const shotsApi = () =>
  apiRoom()
    .openapi(routes.listShots, async (c) => {
      const { pitchDeg, rollDeg, carryM, startLineDeg, ...query } = c.req.valid("query");
      const ranges = {
        ...{ pitchDeg: range(pitchDeg), rollDeg: range(rollDeg) },
        ...{ carryM: range(carryM), startLineDeg: range(startLineDeg) },
      };
      return c.json(sent(await c.var.library.shots.find(given({ ...query, ...ranges }))), 200);
    })
    .openapi(routes.listWords, async (c) =>
      c.json(sent(await c.var.library.shots.words(given(c.req.valid("query")))), 200),
    )
    .openapi(routes.readShot, async (c) =>
      c.json(shotAnswer(await c.var.library.shots.byId(c.req.valid("param").id)), 200),
    )
    .openapi(routes.shotRecording, async (c) => {
      const { library } = c.var;
      const { recordingSha256 } = await library.shots.byId(c.req.valid("param").id);
      const bytes = await library.recordingBytes(recordingSha256);
      return c.body(bytes, 200, { "Content-Type": "application/octet-stream" });
    })
    .openapi(routes.shotSidecar, async (c) => {
      const { id, facts } = await c.var.library.shots.byId(c.req.valid("param").id);
      if (facts === undefined) throw serverFaults.noFacts(id);
      return c.json(fieldsFromFacts(facts), 200);
    })
    .openapi(routes.shotHistory, async (c) => {
      const { shots } = c.var.library;
      const { id } = await shots.byId(c.req.valid("param").id);
      return c.json(sent(await shots.history(id)), 200);
    })
    .openapi(routes.sayFacts, async (c) => {
      const facts = factsFromFields(c.req.valid("json"));
      return c.json(shotAnswer(await c.var.library.shots.say(c.req.valid("param").id, facts)), 200);
    })
    .openapi(routes.labelShot, async (c) => {
      const { label } = c.req.valid("json");
      return c.json(shotAnswer(await c.var.library.shots.label(c.req.valid("param").id, label)), 200);
    })
    .openapi(routes.giveResult, async (c) => {
      const { result } = given(c.req.valid("json"));
      return c.json(shotAnswer(await c.var.library.shots.result(c.req.valid("param").id, result ?? undefined)), 200);
    })
    .openapi(routes.noteShot, async (c) => {
      const { note } = c.req.valid("json");
      return c.json(shotAnswer(await c.var.library.shots.note(c.req.valid("param").id, note ?? undefined)), 200);
    })
    .openapi(routes.markShot, async (c) => {
      const { marks } = c.req.valid("json");
      return c.json(shotAnswer(await c.var.library.shots.mark(c.req.valid("param").id, marks)), 200);
    })
    .openapi(routes.unmarkShot, async (c) => {
      const { id, event } = c.req.valid("param");
      return c.json(shotAnswer(await c.var.library.shots.unmark(id, [event])), 200);
    })
    .openapi(routes.moveShot, async (c) => {
      const { sessionId } = c.req.valid("json");
      return c.json(shotAnswer(await c.var.library.shots.move(c.req.valid("param").id, sessionId)), 200);
    })
    .openapi(routes.undoShot, async (c) => {
      const { library } = c.var;
      const { id } = await library.shots.byId(c.req.valid("param").id);
      return c.json({ undone: sent((await library.shots.undoLast(id)) ?? null) }, 200);
    });
