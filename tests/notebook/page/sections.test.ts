import { describe, expect, it } from "vitest";
import { page } from "../../../src/notebook/page/page.js";
import { sectionsOf } from "../../../src/notebook/page/sections.js";
import type { ExecutedCell } from "../../../src/notebook/run/execute.js";

const text = (source: string): ExecutedCell => ({ kind: "markdown", source, outputs: [] });
const code = (source: string, words?: string): ExecutedCell => ({
  kind: "code",
  source,
  outputs:
    words === undefined ? [] : [{ output_type: "display_data", data: { "text/plain": words } }],
});
const html = (...cells: ExecutedCell[]) =>
  page(
    { name: "n", file: "n.ipynb", cells: [text("# Title"), ...cells] },
    { date: "", versions: [] },
  );

describe("the sections of a page", () => {
  it("begin at headings of the second level, not at those in code", () => {
    const cells = [
      text("before\n\n## One *more*\n\nwords\n\n```\n## no\n```\n\n## Two"),
      code("x"),
    ];
    const sections = sectionsOf(cells);
    expect(sections.map(({ heading, id }) => [heading, id])).toEqual([
      [undefined, undefined],
      ["One *more*", "one-more"],
      ["Two", "two"],
    ]);
    expect(sections[1]!.cells[0]!.source).toContain("## no");
    expect(sections[2]!.cells.at(-1)).toEqual(code("x"));
  });

  it("have ids of their own where headings are alike", () => {
    const ids = sectionsOf([text("## A\n\nx"), text("## A\n\ny"), text("## …\n\nz")]).map(
      ({ id }) => id,
    );
    expect(ids).toEqual([undefined, "a", "a-2", "section"]);
  });

  it("are folded behind a rule, and listed with links", () => {
    const whole = html(
      text("## A\n\nx"),
      text("## B\n\ny"),
      text("---"),
      text("## C\n\nz"),
      code("c", "out"),
    );
    expect(whole).toContain('<h2 id="a">A</h2>');
    expect(whole).toMatch(
      /<details class="section"><summary><h2 id="c">C<\/h2><\/summary>[\s\S]*out/,
    );
    expect(whole.match(/<details class="section">/g)).toHaveLength(1);
    for (const id of ["a", "b"]) expect(whole).toContain(`<li><a href="#${id}">`);
    expect(whole).toContain('<li class="folded"><a href="#c">C</a></li>');
    expect(whole).not.toContain("<hr");
  });

  it("have no heading over nothing: the code stays, folded", () => {
    const whole = html(text("## Silent"), code("let x = 1;"));
    expect(whole).not.toContain("Silent");
    expect(whole).toContain("let x = 1;");
  });

  it("fold their code once, and drop a bar of progress", () => {
    const bar: ExecutedCell = {
      ...code("p"),
      outputs: [
        {
          output_type: "display_data",
          data: { "text/html": '<label><progress value="1" max="1"></progress> done</label>' },
        },
      ],
    };
    const whole = html(text("## A\n\nx"), code("one", "1"), bar, code("two", "2"));
    expect(whole.match(/<summary>Show the code/g)).toHaveLength(1);
    expect(whole).not.toContain("<progress");
  });

  it("lead to other notebooks as pages", () => {
    expect(html(text("[next](how-sure.ipynb#bonds)"))).toContain(
      '<a href="how-sure.html#bonds">next</a>',
    );
  });

  it("can be reached past the top by keyboard", () => {
    expect(html(text("x"))).toContain('<a class="skip" href="#text">');
    expect(html(text("x"))).toContain('<div id="text" tabindex="-1">');
  });
});
