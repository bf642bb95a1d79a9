/// <reference lib="dom" />
/// <reference lib="dom.iterable" />
/**
 * What sorts and filters long tables of a page in the browser. It is sent as its source and uses nothing
 * outside; where no script runs, tables stand in the order in which they were made.
 * @module
 */

/* v8 ignore start */
function sortTables(least: number): void {
  const order = new Intl.Collator("en", { numeric: true });
  for (const table of document.querySelectorAll("table")) {
    const body = table.querySelector("tbody");
    const rows = body ? Array.from(body.rows) : [];
    if (!body || rows.length < least || !table.querySelector("thead")) continue;
    const filter = document.createElement("label");
    const field = document.createElement("input");
    const count = document.createElement("output");
    filter.setAttribute("class", "filter");
    field.setAttribute("type", "search");
    const tell = (): void => {
      const words = field.value.toLowerCase().split(/\s+/);
      let kept = 0;
      for (const row of rows) {
        const text = row.textContent.toLowerCase();
        row.hidden = !words.every((word) => text.includes(word));
        if (!row.hidden) kept++;
      }
      count.textContent = `${kept} of ${rows.length} rows`;
    };
    field.addEventListener("input", tell);
    tell();
    filter.append("Filter ", field, count);
    table.before(filter);
    const heads = Array.from(table.querySelectorAll("thead th"));
    heads.forEach((head, column) => {
      const name = head.textContent;
      const button = document.createElement("button");
      button.setAttribute("type", "button");
      button.setAttribute("title", "Sort by this column");
      button.textContent = name;
      // Up, down, and back to the order of the page.
      let state = 0;
      button.addEventListener("click", () => {
        state = (state + 1) % 3;
        for (const other of heads) other.removeAttribute("aria-sort");
        if (state > 0) head.setAttribute("aria-sort", state === 1 ? "ascending" : "descending");
        const text = (row: Element) => row.children[column]?.textContent ?? "";
        const sign = state === 1 ? 1 : -1;
        const sorted = [...rows].sort((a, b) => sign * order.compare(text(a), text(b)));
        body.replaceChildren(...(state === 0 ? rows : sorted));
      });
      head.replaceChildren(button);
    });
  }
}
/* v8 ignore stop */

/** Rows from which on a table is worth sorting. */
const least = 12;

export function tableScript(): string {
  return `(${sortTables})(${least})`;
}
