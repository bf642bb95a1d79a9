import { createHash } from "node:crypto";
import { describe, expect, it } from "vitest";
import {
  dieMapFigure,
  dropsFigure,
  loadsFigure,
  type Mount,
  mountDrawing,
  thermalBudget,
} from "../../../src/index.js";
import { drawingBundle, figureBundle } from "../../../src/notebook/page/figurehtml.js";
import { answerLines, page } from "../../../src/notebook/page/page.js";
import type { ExecutedCell } from "../../../src/notebook/run/execute.js";
import type { MimeBundle, Output } from "../../../src/notebook/run/notebook.js";
import { answerType } from "../../../src/notebook/show.js";
import { exampleMount } from "../../mount/example.js";
import { wellFormed } from "../../plots/xml.js";

const text = (source: string): ExecutedCell => ({ kind: "markdown", source, outputs: [] });
const code = (source: string, ...outputs: Output[]): ExecutedCell => ({
  kind: "code",
  source,
  outputs,
});
const display = (data: MimeBundle): Output => ({ output_type: "display_data", data });
const stream = (words: string): Output => ({ output_type: "stream", name: "stdout", text: words });
const answered = (...lines: string[]) => code("answer()", display({ [answerType]: { lines } }));

const imprint = { date: "2001-02-03", versions: ["coldpath 9.9.9", "Plotly <1>"] };
const notebook = (...cells: ExecutedCell[]) => ({
  name: "the-name",
  file: "the-name.ipynb",
  cells,
});
const html = (...cells: ExecutedCell[]) => page(notebook(...cells), imprint);
const body = (...cells: ExecutedCell[]) =>
  html(...cells).replace(/^[\s\S]*<main>|<\/main>[\s\S]*$/g, "");

const figure = {
  data: [{ type: "scatter", x: Float64Array.of(1, 2), y: [3, Number.NaN], name: "</script><b>" }],
  layout: { xaxis: { title: { text: "x" } } },
  alt: 'falls "fast" & far',
};

describe("page", () => {
  it("takes its title from the first heading and shows the heading once, above the answer", () => {
    const whole = html(text("intro"), text("## How *many*?\n\nwords"), answered("A  1"));
    expect(whole).toContain("<title>How *many*?</title>");
    expect(whole).toContain("<h1>How <em>many</em>?</h1>");
    expect(whole).not.toContain("<h2>How");
    expect(whole.indexOf("<h1>")).toBeLessThan(whole.indexOf('<section class="answer"'));
    expect(whole.indexOf('<section class="answer"')).toBeLessThan(whole.indexOf("intro"));
  });

  it("is named after the file when there is no heading", () => {
    expect(html(text("words"))).toContain("<title>the-name</title>");
  });

  it("states its language, its date and the versions", () => {
    const whole = html(text("words"));
    expect(whole).toMatch(/^<!DOCTYPE html>\n<html lang="en">/);
    expect(whole).toContain(
      "<footer>Computed 2001-02-03 · coldpath 9.9.9 · Plotly &lt;1&gt;</footer>",
    );
  });

  it("has date and versions at the foot of each printed sheet, as text of its style", () => {
    const [, style] = /<style>([\s\S]*?)<\/style>/.exec(html(text("a")))!;
    expect(style).toContain(
      'content: "Computed 2001-02-03 \\b7  coldpath 9.9.9 \\b7  Plotly \\3c 1\\3e "',
    );
  });

  it("shows the last answer, its names beside its values", () => {
    const cells = [answered("old"), answered("Bonds   12  more", "one & only")];
    expect(answerLines(notebook(...cells))).toEqual(["Bonds   12  more", "one & only"]);
    expect(body(...cells)).toContain(
      '<tr><td>Bonds</td><td>12  more</td></tr><tr><td colspan="2">one &amp; only</td></tr>',
    );
    expect(body(...cells)).not.toContain("old");
  });

  it("folds the code and escapes it", () => {
    expect(body(code("if (a < b) c;"))).toContain(
      '<details class="code"><summary>Show the code</summary><pre><code>if (a &lt; b) c;</code></pre></details>',
    );
  });

  it("leaves an empty code cell out", () => {
    expect(body(code("  \n"))).not.toContain("details");
  });

  it("keeps HTML in the notebook's own text", () => {
    expect(body(text("H<sub>2</sub>"))).toContain("H<sub>2</sub>");
  });

  it("escapes what a cell printed, without the terminal's colours", () => {
    expect(body(code("x", stream("\u001b[31m<b>&\u001b[39m")))).toContain(
      '<pre class="stdout">&lt;b&gt;&amp;</pre>',
    );
  });

  it("escapes HTML in Markdown that a cell put out, and drops links that are no web address", () => {
    const shown = body(
      code("x", display({ "text/markdown": "**a** <img src=x onerror=y> [l](javascript:z)" })),
    );
    expect(shown).toContain("<strong>a</strong> &lt;img src=x onerror=y&gt; l");
  });

  it("fetches no picture", () => {
    expect(body(text("![a <b>](http://a.example/b.png)"))).not.toMatch(/<img|http:/);
    expect(body(text("![a](data:image/png;base64,AAAA)"))).toContain(
      '<img src="data:image/png;base64,AAAA" alt="a">',
    );
  });

  it("prefers HTML to Markdown to text, and shows what it does not know not at all", () => {
    const forms = { "text/plain": "p", "text/markdown": "m", "text/html": "<i>h</i>" };
    expect(body(code("x", display(forms)))).toContain('<div class="output"><i>h</i></div>');
    expect(body(code("x", display({ "application/x-unknown": 1 })))).not.toContain("output");
  });

  it("holds a figure as JSON that cannot end its script, with a text alternative", () => {
    const shown = body(code("x", display(figureBundle(figure))));
    const found = /<script type="application\/json">(.*?)<\/script>/.exec(shown)!;
    const spec = JSON.parse(found[1]!);
    expect(spec.data).toEqual([{ type: "scatter", x: [1, 2], y: [3, null], name: "</script><b>" }]);
    expect(shown).toContain('aria-label="falls &quot;fast&quot; &amp; far"');
  });

  it("draws the picture of a high figure lower, since paper has less height than a screen", () => {
    const sizeOf = (own: object) => {
      const shown = body(code("x", display(figureBundle({ data: [], alt: "", ...own } as never))));
      const [, width, height] = /<svg [^>]*?width="([\d.]+)" height="([\d.]+)"/.exec(shown)!;
      return [Number(width), Number(height)] as const;
    };
    const line = { data: [{ x: [0, 1], y: [0, 1] }] };
    expect(sizeOf({ ...line, layout: { height: 360 } })[0]).toBe(680);
    const [wide, high] = sizeOf({ ...line, layout: { height: 700 } });
    expect([wide, high < 300]).toEqual([680, true]);
    // A map keeps its shape and becomes smaller.
    const map = {
      data: [
        {
          type: "heatmap",
          x: [0, 1],
          y: [0, 1],
          z: [
            [0, 1],
            [1, 0],
          ],
        },
      ],
    };
    const bound = { ...map, layout: { yaxis: { scaleanchor: "x" } } };
    expect(sizeOf(bound)[0]).toBe(340);
    // Two maps stand side by side.
    const shown = display(figureBundle({ ...bound, alt: "" } as never));
    const pair = body(code("x", shown, shown));
    expect(pair.match(/<figure class="figure half"/g)).toHaveLength(2);
    expect(body(code("x", shown), text("words"), code("y", shown))).not.toContain("figure half");
    const rows = Array.from({ length: 14 }, (_, i) => `row ${i}`);
    const bars = { data: [{ type: "bar", orientation: "h", x: rows.map(() => 1), y: rows }] };
    expect(sizeOf({ ...bars, layout: {} })[0]).toBe(680);
  });

  it("carries what a slider shows to the page, and a figure without one none", () => {
    const map = { data: [{ type: "heatmap", z: [[1]] }], layout: {} };
    const frames = { label: "time", start: "all", each: [{ name: "after 1 s", ...map }] };
    const shown = (more: object) =>
      html(code("x", display(figureBundle({ ...map, ...more, alt: "a map" }))));
    const spec = (whole: string) =>
      JSON.parse(/<script type="application\/json">(.*?)<\/script>/.exec(whole)![1]!);
    expect(spec(shown({ frames })).frames).toMatchObject({
      label: "Time",
      start: "all",
      each: [{ name: "after 1\u202fs", data: [{ z: [[1]] }] }],
    });
    expect(spec(shown({})).frames).toBeUndefined();
  });

  it("sorts and filters tables by a script of its own, and needs none to show them", () => {
    const table =
      "<table><thead><tr><th>a</th></tr></thead><tbody><tr><td>1</td></tr></tbody></table>";
    const whole = html(code("x", display({ "text/html": table })));
    expect(whole).toContain("Sort by this column");
    expect(whole).toContain(table);
    expect(html(text("a"))).not.toContain("Sort by this column");
  });

  it("puts a picture before Plotly's place, numbers figures, and names what its buttons save", () => {
    const named = { ...figure, layout: { ...figure.layout, title: { text: 'A <b>"B"' } } };
    const shown = body(
      code("x", display(figureBundle(named)), display(figureBundle(figure))),
      code(
        "y",
        display({
          "application/vnd.coldpath.drawing+json": {
            title: "<i>",
            svg: "<svg></svg>",
            narrow: "<svg></svg>",
            alt: "Plan: x",
          },
        }),
      ),
    );
    expect(shown.indexOf('<div class="picture"><svg')).toBeLessThan(shown.indexOf('class="plot"'));
    expect(shown).toContain("<strong>Figure 1. A &quot;B&quot;.</strong>");
    expect(shown).toContain("<strong>Figure 2.</strong>");
    expect(shown).toContain("<strong>Figure 3. &lt;i&gt;.</strong>");
    expect(shown).toContain('data-save="csv" aria-label="Save A &quot;B&quot; as CSV"');
    expect(shown).toContain('"name":"a-b"');
  });

  it("keeps Plotly in print where there is no picture", () => {
    const bundle = figureBundle({ data: [{ type: "surface", z: [[1]] }], layout: {} });
    expect(body(code("x", display(bundle)))).toContain('<figure class="figure without-picture"');
  });

  it("holds Plotly once for all figures, not at all without one, and is under 6 MB", () => {
    const one = display(figureBundle(figure));
    const count = (whole: string) => whole.split("window.Plotly = Plotly").length - 1;
    const whole = html(code("x", one, one), code("y", one));
    expect(count(whole)).toBe(1);
    expect(count(html(text("words")))).toBe(0);
    expect(whole.length).toBeLessThan(6e6);
  });

  it("lets only its own scripts run, by their digests, and nothing load", () => {
    const whole = html(
      code("x", display(figureBundle(figure)), display({ "text/html": "<script>bad()</script>" })),
    );
    const policy = /Content-Security-Policy" content="([^"]*)"/.exec(whole)![1]!;
    expect(policy).toContain("default-src 'none'");
    expect(policy).not.toMatch(/script-src[^;]*unsafe/);
    const scripts = [...whole.matchAll(/<script>([\s\S]*?)<\/script>/g)].map((found) => found[1]!);
    const allowed = scripts.filter((source) =>
      policy.includes(createHash("sha256").update(source).digest("base64")),
    );
    expect(scripts).toHaveLength(3);
    expect(allowed).toHaveLength(2);
    expect(allowed).not.toContain("bad()");
  });
});

describe("what a cell puts out", () => {
  it("cannot lead the reader to another page", () => {
    const away =
      '<META http-equiv="refresh" content="0;url=http://a.example"><meta\n/http-equiv=refresh>';
    for (const whole of [html(code("x", display({ "text/html": away }))), html(text(away))]) {
      const shown = whole.slice(whole.indexOf("<body>"));
      expect(shown).not.toMatch(/<meta/i);
      expect(shown).toContain('&lt;META http-equiv="refresh"');
    }
  });

  it("offers in no toolbar to send a figure away", () => {
    const whole = html(code("x", display(figureBundle(figure))));
    const found = /<script type="application\/json">(.*?)<\/script>/.exec(whole)!;
    const quiet = { showSendToCloud: false, displaylogo: false };
    expect(JSON.parse(found[1]!).config).toMatchObject(quiet);
    const { "application/vnd.plotly.v1+json": json, "text/html": own } = figureBundle({
      ...figure,
      config: { showSendToCloud: true },
    });
    expect(json).toMatchObject({ config: quiet });
    expect(own).toContain('"showSendToCloud":false');
  });
});

describe("what users name", () => {
  // One name that would end an attribute, an element, a script, a template and a comment.
  const nasty = `"><script>bad()</script>'\`\${bad()}--></svg><img src=x onerror=bad()>`;
  const mount: Mount = {
    ...exampleMount(),
    name: nasty,
    clamps: [{ name: nasty, faces: "sapphire on silicon", force: "5 N" }],
    loads: [{ kind: "given", name: nasty, power: "5 nW" }],
  };
  const budget = thermalBudget(mount);
  const shown = html(
    answered(`${nasty}  ${nasty}`),
    code(
      nasty,
      stream(nasty),
      ...[
        dropsFigure(budget),
        loadsFigure([budget], { title: nasty }),
        dieMapFigure(budget, nasty),
      ].map((each) => display(figureBundle(each))),
      display(drawingBundle(mountDrawing(mount))),
      display({ "text/html": budget.toHtml() }),
      display({ "text/markdown": budget.toMarkdown() }),
      display({ "text/html": budget.numbers().toHtml() }),
    ),
  );

  const withoutOwn = shown.replace(/<script>[\s\S]*?<\/script>/g, "");

  it("stands on the page as text, wherever it goes", () => {
    // Plotly, what draws figures with it, and what sorts tables.
    expect(shown.match(/<script>/g)).toHaveLength(3);
    expect(withoutOwn.replace(/<script type="application\/json">[^<]*<\/script>/g, "")).not.toMatch(
      /<script|<img|onerror=bad\(\)>(?!&)/,
    );
    expect(withoutOwn.match(/bad\(\)/g)!.length).toBeGreaterThan(12);
  });

  it("leaves every element of the page closed", () => {
    for (const svg of withoutOwn.match(/<svg[\s\S]*?<\/svg>/g)!) expect(wellFormed(svg)).toBe(true);
  });
});
