import { describe, expect, it } from "vitest";
import { figureBundle, figureType } from "../../../src/notebook/page/figurehtml.js";

const figure = { data: [{ y: Float64Array.of(1) }], layout: { height: 300 }, alt: "it <falls>" };
const html = () => String(figureBundle(figure)["text/html"]);

describe("figureBundle", () => {
  it("gives Plotly's JSON with plain lists, and the alternative as text", () => {
    const bundle = figureBundle(figure);
    expect(bundle[figureType]).toMatchObject({ data: [{ y: [1] }], layout: { height: 300 } });
    expect(bundle["text/plain"]).toBe("it <falls>");
  });

  it("shows a picture with the alternative where scripts are taken out", () => {
    const bare = html().replace(/<script>[\s\S]*?<\/script>/g, "");
    expect(bare).toContain('alt="it &lt;falls&gt;"');
    const encoded = /<img src="data:image\/svg\+xml;base64,([^"]+)"/.exec(bare)![1]!;
    const svg = Buffer.from(encoded, "base64").toString();
    expect(svg).toMatch(/^<svg [^>]*role="img"[\s\S]*<\/svg>$/);
    expect(figureBundle(figure)["image/svg+xml"]).toBe(svg);
  });

  it("shows the words alone where no picture can be drawn", () => {
    const bundle = figureBundle({ ...figure, data: [{ type: "surface", z: [[1]] }] });
    expect(bundle["text/html"]).toContain("<p>it &lt;falls&gt;</p>");
    expect(bundle).not.toHaveProperty("image/svg+xml");
  });

  it("brings Plotly with the first figure only, small enough for a Jupyter server's limit", async () => {
    const { vi } = await import("vitest");
    vi.resetModules();
    const fresh = await import("../../../src/notebook/page/figurehtml.js");
    const first = String(fresh.figureBundle(figure)["text/html"]);
    const second = String(fresh.figureBundle(figure)["text/html"]);
    // A Jupyter server drops output beyond 1 MB/s taken over 3 s.
    expect(first.length).toBeGreaterThan(1e6);
    expect(first.length).toBeLessThan(3e6);
    expect(second.length).toBeLessThan(8e3);
  });

  it("gives each figure a place of its own, also when shown twice", () => {
    const id = /id="([^"]+)"/;
    expect(id.exec(html())![1]).not.toBe(id.exec(html())![1]);
  });
});
