import { routes } from "@underfoot/protocol";
import { apiRoom } from "./api-room.ts";
import { given, sent } from "./shapes-between.ts";

export const historyApi = () =>
  apiRoom()
    .openapi(routes.listHistory, async (c) =>
      c.json(sent(await c.var.library.history(given(c.req.valid("query")))), 200),
    )
    .openapi(routes.undoHistory, async (c) => c.json({ id: await c.var.library.undo(c.req.valid("param").id) }, 200));
