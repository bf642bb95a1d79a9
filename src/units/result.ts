/**
 * A result: one description of its content, printed as text, Markdown, HTML and CSV.
 * @module
 */
import type { Provenance } from "../provenance.js";
import { formatGiven, printable, printedUnit } from "./format.js";
import {
  cellText,
  escapeHtml,
  markdownText,
  spreadsheetLine,
  type Table,
  tableHtml,
  tableMarkdown,
  tableText,
} from "./table.js";

/** What a result is based on. */
export interface ResultBasis {
  /** What to know before trusting it; none when absent. */
  readonly warnings?: readonly string[];
  /** The numbers behind it, or a function that lists them when they are asked for; none when absent. */
  readonly provenance?: readonly Provenance[] | (() => readonly Provenance[]);
}

/** What a result is made from: fields of its class but those derived, and what they are based on. */
export type ResultContent<R extends Result, Derived extends keyof R = never> = ResultBasis &
  Omit<R, Exclude<keyof Result, "name"> | Derived>;

/** One number of a result in SI, for its CSV; left out where the value is absent or not finite. */
export type ResultRow = readonly [
  section: string,
  name: string,
  quantity: string,
  value: number | undefined,
  unit: string,
  more?: {
    /** Place on the warm side. */
    readonly from?: string;
    /** Place on the cold side. */
    readonly to?: string;
    /** Standard error of the value, in its unit. */
    readonly uncertainty?: number | undefined;
  },
];

const csvHead = "section,name,from,to,quantity,value,unit,uncertainty,source,note".split(",");

/** An answer of the library. A subclass describes its content; all forms of print are made here. */
export abstract class Result {
  /** Name of the mount, or of what else it is about; heads the print. None when empty. */
  abstract readonly name: string;
  /** The answer in a few sentences, without the number of warnings. */
  protected abstract readonly answer: string;
  /** What to know before trusting it: ranges that were left, for example. */
  readonly warnings: readonly string[];
  #provenance: NonNullable<ResultBasis["provenance"]>;

  /** @param content - the basis, and the fields that the subclass declares */
  protected constructor({ warnings = [], provenance = [], ...fields }: ResultBasis) {
    Object.assign(this, fields);
    this.warnings = warnings;
    this.#provenance = provenance;
  }

  /**
   * Gives the result a field whose value is made when it is first asked for, since not every caller asks; it
   * is listed, copied and written to JSON as any other.
   */
  protected later<K extends keyof this>(name: K, make: () => this[K]): void {
    const define = (how: PropertyDescriptor) =>
      Object.defineProperty(this, name, { configurable: true, enumerable: true, ...how });
    define({
      get() {
        const value = make();
        define({ value });
        return value;
      },
    });
  }

  /** The answer in a few sentences, and how many warnings to read before trusting it. */
  get summary(): string {
    const { length } = this.warnings;
    if (length === 0) return this.answer;
    return `${this.answer} ${length === 1 ? "1 warning" : `${length} warnings`}.`.trim();
  }

  /** The tables of the print; those without rows are left out. */
  protected abstract tables(): readonly Table[];

  /** Numbers for the CSV: those of the tables, by the first words of their row and their column. */
  protected *csvRows(): Generator<ResultRow> {
    for (const { title, columns, rows } of this.tables()) {
      for (const row of rows) {
        const name = row.find((cell) => typeof cell === "string") ?? cellText(row[0]!);
        for (const [c, cell] of row.entries()) {
          if (typeof cell === "string") continue;
          yield [title, name, columns[c]!, cell.value, cell.unit, { uncertainty: cell.error }];
        }
      }
    }
  }

  /** Sentences below the tables. */
  protected notes(): readonly string[] {
    return [];
  }

  /** Tables at the end, which a page folds away. */
  protected folded(): readonly Table[] {
    return [];
  }

  /** The numbers that enter the result, with their sources; empty where none were recorded. */
  get provenance(): readonly Provenance[] {
    if (typeof this.#provenance === "function") this.#provenance = this.#provenance();
    return this.#provenance;
  }

  /** Only the numbers that enter the result and their sources, to show by themselves. */
  numbers(): Result {
    return new Numbers({ provenance: () => this.provenance });
  }

  /** For a terminal: aligned columns. */
  toText(): string {
    const text = [
      this.name,
      [this.summary, ...this.warnings.map((text) => `Warning: ${text}`)].filter(Boolean).join("\n"),
      ...filled(this.tables()).map(tableText),
      this.notes().join("\n"),
      ...filled(this.folded()).map(tableText),
    ];
    return printable(text.filter(Boolean).join("\n\n"));
  }

  /** For a notebook or a merge request. */
  toMarkdown(): string {
    return [
      this.name && `### ${markdownText(this.name)}`,
      markdownText(this.summary),
      ...this.warnings.map((text) => `**Warning:** ${markdownText(text)}`),
      ...filled(this.tables()).map(tableMarkdown),
      markdownText(this.notes().join(" ")),
      ...filled(this.folded()).map(tableMarkdown),
    ]
      .filter(Boolean)
      .join("\n\n");
  }

  /** For a page: plain elements with classes, no style of its own; every text is escaped. */
  toHtml(): string {
    const warnings = this.warnings.map((text) => `<li>${escapeHtml(text)}</li>`).join("");
    const notes = escapeHtml(this.notes().join(" "));
    const folded = filled(this.folded()).map(tableHtml).join("\n");
    return [
      '<section class="result">',
      this.name && `<h3>${escapeHtml(this.name)}</h3>`,
      this.summary && `<p>${escapeHtml(this.summary)}</p>`,
      warnings && `<ul class="warnings">${warnings}</ul>`,
      ...filled(this.tables()).map(tableHtml),
      notes && `<p class="notes">${notes}</p>`,
      folded && `<details><summary>Where the numbers come from</summary>${folded}</details>`,
      "</section>",
    ]
      .filter(Boolean)
      .join("\n");
  }

  /**
   * One table, SI without prefixes: section, name, from, to, quantity, value, unit, uncertainty,
   * source, note. Warnings and the numbers used are its last rows.
   */
  toCsv(): string {
    const lines: string[] = [];
    const add = (...cells: readonly (string | number)[]) => lines.push(spreadsheetLine(cells));
    add(...csvHead);
    for (const [section, name, quantity, value, unit, more = {}] of this.csvRows()) {
      if (value === undefined || !Number.isFinite(value)) continue;
      const { from = "", to = "", uncertainty } = more;
      const error = uncertainty !== undefined && Number.isFinite(uncertainty) ? uncertainty : "";
      add(section, name, from, to, quantity, value, unit, error, "computed", "");
    }
    for (const text of this.warnings) add("warning", "", "", "", "", "", "", "", "", text);
    for (const { quantity, value, unit, uncertainty, source, where, note } of this.provenance) {
      const from = [source, where].filter(Boolean).join("; ");
      add("number used", quantity, "", "", "", value, unit, uncertainty, from, note);
    }
    return lines.join("");
  }
}

/** The numbers behind a result. */
class Numbers extends Result {
  readonly name = "";

  constructor(basis: ResultBasis) {
    super(basis);
  }

  protected get answer(): string {
    return this.provenance.length === 0 ? "No numbers with sources are recorded here." : "";
  }

  protected tables(): readonly Table[] {
    return numberTables(this.provenance);
  }

  override numbers(): Result {
    return this;
  }
}

function filled(tables: readonly Table[]): readonly Table[] {
  return tables.filter(({ rows }) => rows.length > 0);
}

/** Every number once: those of the catalogue by source, then those given in the mount. */
export function numberTables(provenance: readonly Provenance[]): readonly Table[] {
  const published = provenance.filter(({ source }) => source !== "given");
  const sources = [...new Set(published.map(({ source }) => source))];
  const own = provenance.filter(({ source }) => source === "given");
  const value = (p: Provenance) => printedUnit(formatGiven(p.value, p.unit));
  return [
    {
      title: "Numbers of the catalogue",
      columns: ["quantity", "value", "uncertainty", "source", "note"],
      numbersFrom: 5,
      rows: published.map((p) => [
        p.quantity,
        value(p),
        p.uncertainty.replace(/^x/, "× or ÷ "),
        `[${sources.indexOf(p.source) + 1}] ${p.where}`,
        p.note,
      ]),
      asText: "lines",
    },
    {
      title: "Sources",
      columns: ["", "publication"],
      numbersFrom: 2,
      rows: sources.map((source, i) => [`[${i + 1}]`, source]),
      asText: "lines",
    },
    {
      title: "Numbers given in the mount",
      columns: ["quantity", "value", "note"],
      numbersFrom: 3,
      rows: own.map((p) => [p.quantity, value(p), p.note]),
      asText: "lines",
    },
  ];
}
