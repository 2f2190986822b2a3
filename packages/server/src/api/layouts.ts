import { routes } from "@underfoot/protocol";
import { apiRoom } from "./api-room.ts";
import { given, part, sent } from "./shapes-between.ts";

export const layoutsApi = () =>
  apiRoom()
    .openapi(routes.listLayouts, async (c) => c.json(sent(await c.var.library.layouts.list()), 200))
    .openapi(routes.addLayout, async (c) =>
      c.json(sent(await c.var.library.layouts.add(given(c.req.valid("json")))), 201),
    )
    .openapi(routes.changeLayout, async (c) => {
      const { id } = c.req.valid("param");
      return c.json(sent(await c.var.library.layouts.change(id, part(c.req.valid("json")))), 200);
    })
    .openapi(routes.removeLayout, async (c) => {
      const { id } = c.req.valid("param");
      await c.var.library.layouts.remove(id);
      return c.json({ id }, 200);
    });
