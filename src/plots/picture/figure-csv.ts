/**
 * The data behind a figure as one table, for a spreadsheet or another program.
 * @module
 */
import type { Figure } from "../figure.js";
import type { FigureLayout, Trace } from "../traces.js";

/**
 * The points of every trace as CSV (RFC 4180), a row a point: series, the two axes by their titles with
 * units, and what there is of value of a map, base of a bar, error up and down. Contours of a map in the same
 * figure repeat it and are left out.
 *
 * A page sends this function to the browser as its source, so it uses nothing outside itself.
 */
export function figureCsv(figure: Pick<Figure, "data" | "layout">): string {
  const traces = figure.data as readonly Trace[];
  const { xaxis, yaxis, yaxis2 } = figure.layout as FigureLayout;
  const isList = (value: unknown): value is ArrayLike<unknown> =>
    Array.isArray(value) || (ArrayBuffer.isView(value) && !(value instanceof DataView));
  const plain = (text: string) => text.replace(/<br\s*\/?>/gi, " ").replace(/<\/?\w+[^>]*>/g, "");
  const hasMap = traces.some(({ type }) => type === "heatmap");
  const kept = traces.filter(({ type }) => !(hasMap && type === "contour"));
  const map = kept.find(({ z }) => z !== undefined);
  const hasBase = kept.some(({ base }) => base !== undefined);
  const hasErrors = kept.some((trace) => trace.error_x?.array ?? trace.error_y?.array);
  const more = [
    ...(map ? [plain(map.colorbar?.title?.text ?? "value")] : []),
    ...(hasBase ? ["base"] : []),
    ...(hasErrors ? ["error up", "error down"] : []),
  ];
  const cell = (value: unknown): string => {
    if (value === null || value === undefined || Number.isNaN(value)) return "";
    if (typeof value === "number") return String(value);
    // As `spreadsheetLine`, which is not in the page: a = + - @ would begin a formula.
    const text = plain(String(value)).replace(/(?<=(?:^|[;\t\r\n])["\s]*)(?=[=+\-@])/g, "'");
    return text === "" ? "" : `"${text.replace(/"/g, '""')}"`;
  };
  const rows: unknown[][] = [
    [
      "series",
      plain(xaxis?.title?.text || "x"),
      [yaxis, ...(yaxis2 ? [yaxis2] : [])]
        .map((y) => plain(y?.title?.text || "y"))
        .join("; below: "),
      ...more,
    ],
  ];
  const at = (list: unknown, i: number) => (isList(list) ? list[i] : undefined);
  for (const trace of kept) {
    const { z, x, y } = trace;
    const name = `${trace.name ?? ""}${trace.yaxis === "y2" ? ", below" : ""}`;
    if (z !== undefined) {
      // A map in colours by the logarithm carries its values beside it.
      const values =
        isList(trace.customdata) && isList(at(trace.customdata, 0)) ? trace.customdata : z;
      for (let j = 0; j < z.length; j++) {
        for (let i = 0; i < z[j]!.length; i++) {
          rows.push([name, x ? x[i] : i, y ? y[j] : j, at(at(values, j), i)]);
        }
      }
      continue;
    }
    const count = Math.max(x?.length ?? 0, y?.length ?? 0);
    const errors = trace.error_y?.array ? trace.error_y : trace.error_x;
    for (let i = 0; i < count; i++) {
      const [a, b] = [x ? x[i] : i, y ? y[i] : i];
      if (a === null || b === null) continue;
      const row: unknown[] = [name, a, b];
      if (map) row.push(undefined);
      if (hasBase) row.push(isList(trace.base) ? trace.base[i] : trace.base);
      if (hasErrors) {
        row.push(at(errors?.array, i), at(errors?.arrayminus ?? errors?.array, i));
      }
      rows.push(row);
    }
  }
  return `${rows.map((row) => row.map(cell).join(",")).join("\r\n")}\r\n`;
}
