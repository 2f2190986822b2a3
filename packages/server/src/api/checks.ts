import { routes } from "@underfoot/protocol";
import { apiRoom } from "./api-room.ts";
import { sent } from "./shapes-between.ts";

export const checksApi = () =>
  apiRoom()
    .openapi(routes.listChecks, async (c) => {
      const { library } = c.var;
      const { id } = await library.sessions.byId(c.req.valid("param").id);
      return c.json(sent(await library.checks.ofSession(id)), 200);
    })
    .openapi(routes.goOnAnyway, async (c) =>
      c.json(sent(await c.var.library.checks.goOnAnyway(c.req.valid("param").id, c.req.valid("json").note)), 200),
    );
