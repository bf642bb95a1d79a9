import { describe, expect, it } from "vitest";
import {
  box,
  element,
  escapeXml,
  nameOf,
  svgDocument,
  textLines,
  words,
} from "../../../src/plots/picture/svg.js";
import { wellFormed } from "../xml.js";

describe("pieces of SVG", () => {
  it("escape what means something in XML, and leave out what it forbids", () => {
    expect(escapeXml(`<a b="c">'&'</a>`)).toBe(
      "&lt;a b=&quot;c&quot;&gt;&#39;&amp;&#39;&lt;/a&gt;",
    );
    expect(escapeXml("a\u0000b\ud800c\ud83d\ude00\td")).toBe("abc\ud83d\ude00\td");
    expect(words("<b>", 1, 2)).toContain(">&lt;b&gt;</text>");
    expect(element("g", { title: '"x"', skip: undefined }, "<i/>")).toBe(
      '<g title="&quot;x&quot;"><i/></g>',
    );
  });

  it("write coordinates to a hundredth, and boxes by any two corners", () => {
    expect(box(3, 4, 1, 1.23456)).toBe('<rect x="1" y="1.23" width="2" height="2.77"/>');
    expect(textLines(["a", "b"], [5, 10], 12).match(/y="\d+"/g)).toEqual(['y="10"', 'y="22"']);
  });

  it("have names that depend on the text alone", () => {
    expect(nameOf("a")).toBe(nameOf("a"));
    expect(nameOf("a")).not.toBe(nameOf("b"));
    expect(nameOf("a")).toMatch(/^c[0-9a-z]+$/);
  });
});

describe("an SVG document", () => {
  const body = words("soft", 1, 1) + box(0, 0, 1, 1, { fill: "#2F3288" });
  const svg = svgDocument("c1", [10, 5], { title: "A & B", alt: "<words>" }, body);

  it("names itself for those who cannot see it", () => {
    expect(wellFormed(svg.replace(/<style>.*<\/style>/, ""))).toBe(true);
    expect(svg).toContain('<title id="c1-t">A &amp; B</title><desc id="c1-d">&lt;words&gt;</desc>');
    expect(svg).toContain('aria-labelledby="c1-t c1-d"');
  });

  it("exchanges the colours that it has for dark ones", () => {
    expect(svg).toContain('.coldpath-svg [fill="#2F3288"]{fill:#A0BFF9}');
    expect(svg).not.toContain('[fill="#269E96"]');
  });
});
