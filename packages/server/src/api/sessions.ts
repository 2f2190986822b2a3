import { routes } from "@underfoot/protocol";
import { apiRoom } from "./api-room.ts";
import { given, part, sent } from "./shapes-between.ts";

export const sessionsApi = () =>
  apiRoom()
    .openapi(routes.listSessions, async (c) =>
      c.json(sent(await c.var.library.sessions.list(given(c.req.valid("query")))), 200),
    )
    .openapi(routes.addSession, async (c) =>
      c.json(sent(await c.var.library.sessions.add(given(c.req.valid("json")))), 201),
    )
    .openapi(routes.readSession, async (c) =>
      c.json(sent(await c.var.library.sessions.byId(c.req.valid("param").id)), 200),
    )
    .openapi(routes.changeSession, async (c) => {
      const { id } = c.req.valid("param");
      return c.json(sent(await c.var.library.sessions.change(id, part(c.req.valid("json")))), 200);
    })
    .openapi(routes.removeSession, async (c) => {
      const { id } = c.req.valid("param");
      await c.var.library.sessions.remove(id);
      return c.json({ id }, 200);
    });
