import type { SheetTable } from "@underfoot/report";
import type { ReactElement } from "react";

/** The table twin of the sheet: values at the events, with units and uncertainty. */
export function SheetTableView({ table }: { readonly table: SheetTable }): ReactElement {
  return (
    // A wide table scrolls inside itself, so it must take the focus.
    // biome-ignore lint/a11y/noNoninteractiveTabindex: scrollable regions need keyboard access.
    <section className="wide-table" tabIndex={0} aria-label={table.caption}>
      <table>
        <caption>{table.caption}</caption>
        <thead>
          <tr>
            <th scope="col">Value</th>
            {table.heads.map((head) => (
              <th key={head.event} scope="col" style={{ textAlign: "right" }}>
                {head.label}
                <small>{head.detailText}</small>
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {table.rows.map((row) => (
            <tr key={row.title}>
              <th scope="row">{row.title}</th>
              {row.cells.map((cell) => (
                <td key={cell.event}>
                  {cell.value.text}
                  <small>{cell.why ?? cell.value.plusMinus}</small>
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}
