import { readFileSync } from "node:fs";
import { afterAll, afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { answer, show } from "../../src/notebook/show.js";
import { slowly } from "../slowly.js";
import { Desk, node, showModule } from "./command-line.js";

const printed = vi.spyOn(console, "log");
beforeEach(() => void printed.mockImplementation(() => {}));
afterEach(() => printed.mockReset());
afterAll(() => printed.mockRestore());

const figure = { data: [], layout: { title: { text: "Loss" } } };

describe("show outside a notebook", () => {
  it.each<[string, Parameters<typeof show>[0], string]>([
    ["a text as it is", "**a**", "**a**"],
    ["a figure's text alternative", { ...figure, alt: "falls" }, "falls"],
    ["a figure's title when it has no alternative", figure, "Loss"],
    ["a result's text", { toText: () => "t", toHtml: () => "<b>h</b>" }, "t"],
    ["a result's Markdown when it has no text", { toMarkdown: () => "m" }, "m"],
    [
      "a result's HTML without its tags when it has nothing else",
      { toHtml: () => "<p>a &lt; b</p><script>x</script><p>c</p>" },
      "a < b\nc",
    ],
  ])("prints %s", (_name, thing, expected) => {
    show(thing);
    expect(printed.mock.calls).toEqual([[expected]]);
  });

  it("calls a result's method as a method", () => {
    show(
      new (class {
        private readonly word = "mine";
        toText() {
          return this.word;
        }
      })(),
    );
    expect(printed).toHaveBeenCalledWith("mine");
  });

  it.each([5, null, undefined, {}, [1], { data: 1, layout: {} }])("refuses %j", (thing) => {
    expect(() => show(thing as never)).toThrow(
      /^show: expected a figure, a text, or a result with toText\(\), toMarkdown\(\) or toHtml\(\), got /,
    );
  });

  it("prints from a script that imports the built module", async () => {
    const script = `import(${JSON.stringify(showModule)}).then(({ show, answer }) => { show("a"); answer(["b  c"]); })`;
    expect(await node("-e", script)).toEqual({ code: 0, stdout: "a\nb  c\n", stderr: "" });
  });
});

describe("answer", () => {
  it("prints its lines outside a notebook", () => {
    answer(["a", "b"]);
    expect(printed.mock.calls).toEqual([["a\nb"]]);
  });

  it.each([
    [[], /^answer: expected a list of lines, got \[\]/],
    ["words", /^answer: expected a list of lines, got "words"/],
    [["a", 5], /^answer\[1\]: expected one line of text, got 5/],
    [["a\nb"], /^answer\[0\]: expected one line of text, got /],
  ])("refuses %j", (lines, message) => {
    expect(() => answer(lines as never)).toThrow(message);
  });
});

describe("show in a notebook", () => {
  const desk = new Desk();
  afterAll(() => desk.remove());

  slowly(
    "shows each form on the page in the order of the calls, between what the cell prints",
    async () => {
      desk.put(
        "forms",
        `import { show } from ${JSON.stringify(showModule)};`,
        `console.log("first");
show({ data: [{ type: "bar", y: [1] }], layout: {}, alt: "second" });
show("third **bold**");
show({ toHtml: () => "<i>fourth</i>" });
console.log("fifth");`,
      );
      const { code, stderr } = await desk.run("forms");
      expect({ code, stderr }).toEqual({ code: 0, stderr: "" });
      const html = readFileSync(`${desk.out}/forms.html`, "utf8");
      expect(html).toMatch(
        /<pre class="stdout">first\n<\/pre>\s*<figure[\s\S]*second[\s\S]*<\/figure>\s*<div class="output"><p>third <strong>bold<\/strong><\/p>\s*<\/div>\s*<div class="output"><i>fourth<\/i><\/div>\s*<pre class="stdout">fifth\n<\/pre>/,
      );
    },
    60_000,
  );

  slowly(
    "lets a cell replace what it displayed before through tslab itself",
    async () => {
      desk.put(
        "again",
        `import * as tslab from "tslab";
const place = tslab.newDisplay();
place.html("<i>one</i>");
console.log("between");
place.html("<i>two</i>");`,
      );
      expect((await desk.run("again")).stderr).toBe("");
      const html = readFileSync(`${desk.out}/again.html`, "utf8");
      expect(html).toMatch(/<i>two<\/i><\/div>\s*<pre class="stdout">between/);
      expect(html).not.toContain('<div class="output"><i>one');
    },
    60_000,
  );
});
