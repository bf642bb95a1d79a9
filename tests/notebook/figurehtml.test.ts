import { describe, expect, it } from "vitest";
import { figureBundle, figureType } from "../../src/notebook/figurehtml.js";

const figure = { data: [{ y: Float64Array.of(1) }], layout: { height: 300 }, alt: "it <falls>" };
const html = () => String(figureBundle(figure)["text/html"]);

describe("figureBundle", () => {
  it("gives Plotly's JSON with plain lists, and the alternative as text", () => {
    const bundle = figureBundle(figure);
    expect(bundle[figureType]).toMatchObject({ data: [{ y: [1] }], layout: { height: 300 } });
    expect(bundle["text/plain"]).toBe("it <falls>");
  });

  it("keeps the alternative readable where scripts are taken out", () => {
    const bare = html().replace(/<script>[\s\S]*?<\/script>/g, "");
    expect(bare).toContain("<p>it &lt;falls&gt;</p>");
  });

  it("brings Plotly with the first figure only, small enough for a Jupyter server's limit", async () => {
    const { vi } = await import("vitest");
    vi.resetModules();
    const fresh = await import("../../src/notebook/figurehtml.js");
    const first = String(fresh.figureBundle(figure)["text/html"]);
    const second = String(fresh.figureBundle(figure)["text/html"]);
    // A Jupyter server drops output beyond 1 MB/s taken over 3 s.
    expect(first.length).toBeGreaterThan(1e6);
    expect(first.length).toBeLessThan(3e6);
    expect(second.length).toBeLessThan(5e3);
  });

  it("gives each figure a place of its own, also when shown twice", () => {
    const id = /id="([^"]+)"/;
    expect(id.exec(html())![1]).not.toBe(id.exec(html())![1]);
  });
});
