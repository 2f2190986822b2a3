import { routes } from "@underfoot/protocol";
import { apiRoom } from "./api-room.ts";
import { given, sent } from "./shapes-between.ts";

export const measuresApi = () =>
  apiRoom()
    .openapi(routes.shotMeasures, async (c) => {
      const { library } = c.var;
      const { id } = await library.shots.byId(c.req.valid("param").id);
      const kept = await library.results.get(id);
      if (kept === undefined) return c.json(null, 200);
      const { shotId, status, version, madeMs, isCurrent, values } = kept;
      return c.json({ shotId, status, version, madeMs, isCurrent, values: Object.fromEntries(values) }, 200);
    })
    .openapi(routes.listPoints, async (c) =>
      c.json(sent(await c.var.library.results.measure(given(c.req.valid("query")))), 200),
    );
