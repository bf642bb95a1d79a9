/** Bureau International des Poids et Mesures, The International System of Units, 9th edition (2019), 5.4. */
import { describe, expect, it } from "vitest";
import { typeset, typesetFigure, typesetHtml } from "../../../src/notebook/page/typeset.js";

describe("numbers on a page", () => {
  it.each([
    ["4.90 mK of 10 %", "4.90\u202fmK of 10\u202f%"],
    ["-95 dBm", "−95\u202fdBm"],
    ["2.4e9 W/(m³ K⁵)", "2.4·10⁹\u202fW/(m³ K⁵)"],
    ["1e-10 of it", "10⁻¹⁰ of it"],
    ["(3.007 ± 0.079)e9", "(3.007 ± 0.079)·10⁹"],
    ["between 1 and 2", "between 1 and 2"],
    ["5 mounts, 3 samples, 4 Kestrel", "5 mounts, 3 samples, 4 Kestrel"],
    ["gold-plated, a2e9b, RRR-30", "gold-plated, a2e9b, RRR-30"],
    ["2026-11-30", "2026-11-30"],
  ])("%s", (plain, set) => {
    expect(typeset(plain)).toBe(set);
    expect(typeset(set)).toBe(set);
  });

  it("are set in texts, not in code, scripts, pictures or attributes", () => {
    const html =
      '<p title="1 mK">1 mK <code>1 mK</code></p><pre>1 mK<b>1 mK</b></pre><svg><svg></svg>1 mK</svg> 2 K';
    expect(typesetHtml(html)).toBe(
      html.replace(">1 mK <code", ">1\u202fmK <code").replace("2 K", "2\u202fK"),
    );
  });

  it("are set in the words of a figure and the names along its axes, not in its numbers", () => {
    const figure = {
      data: [{ x: ["1 mK"], name: "1 mK" }],
      layout: { annotations: [{ text: "-1 mK", x: -1 }] },
    };
    expect(typesetFigure(figure)).toEqual({
      data: [{ x: ["1\u202fmK"], name: "1\u202fmK" }],
      layout: { annotations: [{ text: "−1\u202fmK", x: -1 }] },
    });
  });
});
