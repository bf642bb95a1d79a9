/**
 * A result: one description of its content, printed as text, Markdown, HTML and CSV.
 * @module
 */
import { gradeOf, type Provenance } from "../provenance.js";
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
  protected later<K extends string & keyof this>(name: K, make: () => this[K]): void {
    this.#later.set(name, { make });
    Object.defineProperty(this, name, Result.#getterOf(name));
  }

  readonly #later = new Map<string, { make: () => unknown } | { value: unknown }>();

  /**
   * Getters by the names of their fields. One that belonged to a single result would keep that, with all it
   * was made from, until all memory is swept.
   */
  static readonly #getters = new Map<string, PropertyDescriptor & ThisType<Result>>();

  static #getterOf(name: string) {
    const known = Result.#getters.get(name) ?? {
      configurable: true,
      enumerable: true,
      get() {
        const found = this.#later.get(name)!;
        if ("value" in found) return found.value;
        const value = found.make();
        this.#later.set(name, { value });
        return value;
      },
    };
    Result.#getters.set(name, known);
    return known;
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

/** Every number once: those of the catalogue by material, then those given in the mount. */
export function numberTables(provenance: readonly Provenance[]): readonly Table[] {
  const published = provenance.filter(({ source }) => source !== "given");
  const sources = [...new Set(published.map(({ source }) => source))];
  const own = provenance.filter(({ source }) => source === "given");
  const parted = published.map((p) => {
    const [of, ...rest] = p.quantity.split(": ");
    return { p, of: rest.length > 0 ? (shortNames[of!] ?? of!) : "", what: rest.join(": ") || of! };
  });
  const materials = [...new Set(parted.map(({ of }) => of))];
  return [
    {
      title: "Numbers of the catalogue",
      columns: ["of", "quantity", "value", "uncertainty", "grade", "source"],
      numbersFrom: 6,
      rows: materials.flatMap((material) =>
        parted
          .filter(({ of }) => of === material)
          .map(({ p, of, what }) => [
            of,
            what.replace("lorenz", "Lorenz"),
            givenValue(p),
            p.uncertainty.replace(/^x/, "× or ÷ "),
            gradeOf(p),
            `[${sources.indexOf(p.source) + 1}] ${p.where}`,
          ]),
      ),
      asText: "lines",
    },
    {
      title: "Sources",
      columns: ["number", "publication"],
      numbersFrom: 2,
      rows: sources.map((source, i) => [`[${i + 1}]`, source]),
      asText: "lines",
    },
    {
      title: "Numbers given in the mount",
      columns: ["quantity", "value", "note"],
      numbersFrom: 3,
      rows: own.map((p) => [spokenField(p.quantity), givenValue(p), p.note]),
      asText: "lines",
    },
  ];
}

/** Names of the catalogue that are short for something. */
const shortNames: Readonly<Record<string, string>> = {
  nbti: "niobium-titanium",
  becu: "beryllium copper",
  pressed: "pressed contact",
};

/** `loads[0]: power` as `load 1: power`, `ledge.plating` as `ledge plating`. */
function spokenField(quantity: string): string {
  const [field, ...rest] = quantity.split(": ");
  const words = field!
    .replace(/(s?)\[(\d+)\]/g, (_, _plural, index: string) => ` ${Number(index) + 1}`)
    .replace(/\.(?=[a-z])/g, " ")
    .replace(/([a-z])([A-Z])/g, (_, a: string, b: string) => `${a} ${b.toLowerCase()}`);
  return [words, ...rest].join(": ");
}

/** A value as it was given; areas and volumes in the power of a length that makes them 1 or more. */
function givenValue({ value, unit }: Provenance): string {
  const power = unit === "m^2" ? 2 : unit === "m^3" ? 3 : 0;
  const lengths = [
    [1, "m"],
    [1e-3, "mm"],
    [1e-6, "um"],
    [1e-9, "nm"],
  ] as const;
  const fitting = lengths.find(([size]) => value >= size ** power * (1 - 1e-9));
  if (power === 0 || !fitting) return printedUnit(formatGiven(value, unit));
  const [size, name] = fitting;
  const shown = formatGiven(value / size ** power, "");
  return `${shown} ${printedUnit(`${name}^${power}`).replace("um", "µm")}`;
}
