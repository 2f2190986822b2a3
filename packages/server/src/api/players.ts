import { routes } from "@underfoot/protocol";
import { serverFaults } from "../refusals/faults.ts";
import { apiRoom } from "./api-room.ts";
import { given, part, sent } from "./shapes-between.ts";

export const playersApi = () =>
  apiRoom()
    .openapi(routes.listPlayers, async (c) => c.json(sent(await c.var.library.players.list()), 200))
    .openapi(routes.addPlayer, async (c) => c.json(sent(await c.var.library.players.add(c.req.valid("json"))), 201))
    .openapi(routes.readPlayer, async (c) =>
      c.json(sent(await c.var.library.players.byId(c.req.valid("param").id)), 200),
    )
    .openapi(routes.changePlayer, async (c) => {
      const { id } = c.req.valid("param");
      return c.json(sent(await c.var.library.players.change(id, part(c.req.valid("json")))), 200);
    })
    .openapi(routes.forgetPlayer, async (c) => {
      const { library } = c.var;
      const { id, code } = await library.players.byId(c.req.valid("param").id);
      if (c.req.valid("query").code !== code) throw serverFaults.codeDiffers();
      return c.json(sent(await library.forget(id)), 200);
    })
    .openapi(routes.listOutlines, async (c) => {
      const { library } = c.var;
      const { id } = await library.players.byId(c.req.valid("param").id);
      return c.json(sent(await library.players.outlines(id)), 200);
    })
    .openapi(routes.addOutline, async (c) => {
      const { outline, shoes } = given(c.req.valid("json"));
      const options = shoes === undefined ? {} : { shoes };
      return c.json(sent(await c.var.library.players.addOutline(c.req.valid("param").id, outline, options)), 201);
    });
