/** All forms of print of a result, from one description of its content. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { given, type Provenance } from "../../src/provenance.js";
import { FieldError, UnknownNameError } from "../../src/units/errors.js";
import { Result, type ResultBasis, type ResultRow } from "../../src/units/result.js";
import { quantityCell, riseCell, spreadsheetLine, type Table } from "../../src/units/table.js";

const published: Provenance = {
  quantity: "gold: coupling",
  value: 2.4e9,
  unit: "W/(m^3 K^5)",
  uncertainty: "x2",
  source: "A. Author (2006)",
  where: "table 1",
  note: "",
};

class Wire extends Result {
  readonly name = "wire | <b>";
  protected readonly answer = "It carries 3 nW, <much>.";

  constructor(
    basis: ResultBasis = {},
    readonly folds = false,
  ) {
    super(basis);
  }

  protected tables(): readonly Table[] {
    return [
      {
        title: "Ends <of it>",
        columns: ["end | <i>", "T"],
        numbersFrom: 1,
        rows: [
          ["hot", quantityCell(4, "K")],
          ["cold |\nfoot", { ...riseCell(0.1), error: 1e-3 }],
        ],
      },
      { title: "Nothing", columns: ["nothing"], numbersFrom: 1, rows: [] },
    ];
  }

  protected override notes(): readonly string[] {
    return ["One note.", "Another & one."];
  }

  protected override folded(): readonly Table[] {
    const rows = [["1", "", "long"]];
    const columns = ["a", "b", "c"];
    return this.folds ? [{ title: "Details", columns, numbersFrom: 3, rows, asText: "lines" }] : [];
  }

  protected override *csvRows(): Generator<ResultRow> {
    yield* super.csvRows();
    yield ["end", "=hot", "temperature", 4, "K", { from: "a", to: "b", uncertainty: 0.1 }];
    yield ["end", 'cold, "foot"', "temperature", 0.1, "K"];
    yield ["end", "unknown", "temperature", undefined, "K"];
    yield ["end", "endless", "temperature", Number.POSITIVE_INFINITY, "K"];
    yield ["end", "sampled", "temperature", 1, "K", { uncertainty: Number.NaN }];
  }
}

const wire = new Wire({ warnings: ["<hot>"], provenance: [published, given("length", 2, "m")] });

class Slow extends Wire {
  declare readonly answered: number;
  asked = 0;

  constructor(answer: () => number) {
    super();
    this.later("answered", () => {
      this.asked++;
      return answer();
    });
  }
}

describe("a field that is made later", () => {
  it("is made once, when it is first read", () => {
    const slow = new Slow(() => 42);
    expect(slow.asked).toBe(0);
    expect([slow.answered, slow.answered, slow.asked]).toEqual([42, 42, 1]);
  });

  it("is listed, copied and written to JSON as any other", () => {
    expect(Object.keys(new Slow(() => 1))).toContain("answered");
    expect({ ...new Slow(() => 2) }.answered).toBe(2);
    expect(JSON.parse(JSON.stringify(new Slow(() => 3))).answered).toBe(3);
    expect(structuredClone({ ...new Slow(() => 4) }).answered).toBe(4);
  });

  it("is asked for again after it has failed", () => {
    const slow = new Slow(() => {
      if (slow.asked < 2) throw new Error("too early");
      return 5;
    });
    expect(() => slow.answered).toThrow("too early");
    expect(slow.answered).toBe(5);
  });
});

describe("a result", () => {
  it("prints text: name, summary, warnings, aligned tables, notes", () => {
    expect(wire.toText().split("\n")).toEqual([
      "wire | <b>",
      "",
      "It carries 3 nW, <much>. 1 warning.",
      "Warning: <hot>",
      "",
      "Ends <of it>",
      "  end | <i>         T",
      "  hot          4.00 K",
      "  cold | foot  100 mK",
      "",
      "One note.",
      "Another & one.",
    ]);
  });

  it("prints Markdown without tags, and without pipes and line ends in its cells", () => {
    expect(wire.toMarkdown().split("\n\n")).toEqual([
      "### wire \\| &lt;b&gt;",
      "It carries 3 nW, &lt;much&gt;. 1 warning.",
      "**Warning:** &lt;hot&gt;",
      "**Ends &lt;of it&gt;**",
      [
        "| end \\| &lt;i&gt; | T |",
        "| --- | ---: |",
        "| hot | 4.00 K |",
        "| cold \\| foot | 100 mK |",
      ].join("\n"),
      "One note. Another &amp; one.",
    ]);
  });

  it("prints HTML, every text escaped", () => {
    expect(wire.toHtml().split("\n")).toEqual([
      '<section class="result">',
      "<h3>wire | &lt;b&gt;</h3>",
      "<p>It carries 3 nW, &lt;much&gt;. 1 warning.</p>",
      '<ul class="warnings"><li>&lt;hot&gt;</li></ul>',
      "<table><caption>Ends &lt;of it&gt;</caption>",
      '<thead><tr><th scope="col">end | &lt;i&gt;</th><th scope="col" class="number">T</th></tr></thead>',
      "<tbody>",
      '<tr><td>hot</td><td class="number">4.00 K</td></tr>',
      "<tr><td>cold |",
      'foot</td><td class="number">100 mK</td></tr>',
      "</tbody></table>",
      '<p class="notes">One note. Another &amp; one.</p>',
      "</section>",
    ]);
  });

  it("prints CSV: numbers in SI, no formula, what is not finite left out, sources last", () => {
    expect(wire.toCsv().split("\r\n")).toEqual([
      '"section","name","from","to","quantity","value","unit","uncertainty","source","note"',
      '"Ends <of it>","hot",,,"T",4,"K",,"computed",',
      '"Ends <of it>","cold |\nfoot",,,"T",0.1,"K",0.001,"computed",',
      `"end","'=hot","a","b","temperature",4,"K",0.1,"computed",`,
      '"end","cold, ""foot""",,,"temperature",0.1,"K",,"computed",',
      '"end","sampled",,,"temperature",1,"K",,"computed",',
      '"warning",,,,,,,,,"<hot>"',
      '"number used","gold: coupling",,,,2400000000,"W/(m^3 K^5)","x2","A. Author (2006); table 1",',
      '"number used","length",,,,2,"m",,"given",',
      "",
    ]);
  });

  it("folds the tables of the end away on a page, and prints them as lines in text", () => {
    const folding = new Wire({}, true);
    expect(folding.toHtml()).toMatch(/<details><summary>[^<]+<\/summary><table>.*Details/);
    expect(folding.toMarkdown()).toMatch(/\n\n\*\*Details\*\*\n\n\| a \| b \| c \|/);
    expect(folding.toText()).toMatch(/\n\nDetails\n {2}1; long$/);
  });

  it("without warnings and numbers says so only where it is asked for the numbers", () => {
    const bare = new Wire();
    expect(bare.warnings).toEqual([]);
    expect(bare.provenance).toEqual([]);
    expect(bare.toText()).not.toContain("Warning");
    expect(bare.toHtml()).not.toContain("<ul");
    expect(bare.numbers().toText()).toBe("No numbers with sources are recorded here.");
  });
});

describe("a text from anybody", () => {
  // What a program that parts cells at ; , tab or line end, whatever the quotes, would take for a formula.
  const formula = /(?:^|[;\t\r\n])["\s]*[=+\-@]/;

  it("begins no formula in a cell of a spreadsheet", () => {
    fc.assert(
      fc.property(
        fc
          .array(fc.constantFrom(..."=+-@;,\t\r\n\"' a1"), { maxLength: 12 })
          .map((all) => all.join("")),
        (text) => {
          expect(spreadsheetLine(["x", text]).replace(/\r\n$/, "")).not.toMatch(formula);
          expect(spreadsheetLine([text, 1]).replace(/\r\n$/, "")).not.toMatch(formula);
        },
      ),
      { seed: 5, numRuns: 2000 },
    );
  });

  it("moves no cursor, sets no colour and turns no writing in a terminal", () => {
    const evil = "a\u001b[2J\u009b31m\u0007\u202eb";
    const said = [
      new Wire({ warnings: [evil] }).toText(),
      new FieldError(`bonds.${evil}`, "nothing", evil).message,
      new UnknownNameError(evil, "field", evil, [evil]).message,
    ];
    // biome-ignore lint/suspicious/noControlCharactersInRegex: these are what is looked for
    for (const text of said) expect(text).not.toMatch(/[\x00-\x08\x0b-\x1f\x7f-\x9f\u202e]/);
    expect(said[0]).toContain("a␛[2J\ufffd31m␇\ufffdb");
  });
});

describe("the numbers behind a result", () => {
  it("stand by source, those of the catalogue apart from those given", () => {
    const text = [
      "Numbers of the catalogue",
      "  gold; coupling; 2.4e9 W/(m³ K⁵); × or ÷ 2; C; [1] table 1",
      "",
      "Sources",
      "  [1]; A. Author (2006)",
      "",
      "Numbers given in the mount",
      "  length; 2 m",
    ];
    const numbers = wire.numbers();
    expect(numbers.toText().split("\n")).toEqual(text);
    expect(numbers.numbers()).toBe(numbers);
    expect(numbers.toMarkdown()).toContain("| [1] | A. Author (2006) |");
    expect(numbers.toHtml()).toContain("<caption>Sources</caption>");
    expect(numbers.toCsv().split("\r\n").slice(1, -1)).toEqual(
      wire.toCsv().split("\r\n").slice(-3, -1),
    );
  });

  it("are listed when they are asked for, and only once", () => {
    let asked = 0;
    const later = new Wire({
      provenance: () => {
        asked++;
        return [published];
      },
    });
    later.toText();
    expect(asked).toBe(0);
    expect(later.numbers().toCsv()).toContain("gold: coupling");
    expect(later.provenance).toEqual([published]);
    expect(asked).toBe(1);
  });
});
