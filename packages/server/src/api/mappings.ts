import { type ColumnMapping, columnMappingFromText, columnMappingText } from "@underfoot/formats";
import { routes } from "@underfoot/protocol";
import { apiRoom } from "./api-room.ts";

type Fields = Record<string, unknown>;

/** A mapping as it comes in, in the format of its file. */
export const mappingFromFields = (fields: Fields): ColumnMapping =>
  columnMappingFromText(JSON.stringify({ underfoot: "column-mapping", version: 1, ...fields }), {
    file: "The mapping that was sent",
  });

const mappingAnswer = (mapping: ColumnMapping) => ({
  name: mapping.name,
  mapping: JSON.parse(columnMappingText(mapping)) as Fields,
});

export const mappingsApi = () =>
  apiRoom()
    .openapi(routes.listMappings, async (c) => c.json((await c.var.library.mappings.list()).map(mappingAnswer), 200))
    .openapi(routes.keepMapping, async (c) => {
      const { name } = c.req.valid("param");
      const mapping = mappingFromFields({ ...c.req.valid("json"), name });
      return c.json(mappingAnswer(await c.var.library.mappings.keep(name, mapping)), 200);
    })
    .openapi(routes.removeMapping, async (c) => {
      const { name } = c.req.valid("param");
      await c.var.library.mappings.remove(name);
      return c.json({ name }, 200);
    });
