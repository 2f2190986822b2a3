import { routes } from "@underfoot/protocol";
import { apiRoom } from "./api-room.ts";
import { part, sent } from "./shapes-between.ts";

export const clubsApi = () =>
  apiRoom()
    .openapi(routes.listClubs, async (c) => c.json(sent(await c.var.library.clubs.list()), 200))
    .openapi(routes.addClub, async (c) => c.json(sent(await c.var.library.clubs.add(c.req.valid("json"))), 201))
    .openapi(routes.changeClub, async (c) => {
      const { id } = c.req.valid("param");
      return c.json(sent(await c.var.library.clubs.change(id, part(c.req.valid("json")))), 200);
    })
    .openapi(routes.removeClub, async (c) => {
      const { id } = c.req.valid("param");
      await c.var.library.clubs.remove(id);
      return c.json({ id }, 200);
    });
