import { describe, expect, it } from "vitest";
import { type Mount, mountDrawing } from "../../../src/index.js";
import { drawnParts } from "../../../src/mount/mount.js";
import { readMount } from "../../../src/mount/read.js";
import { bondFeet } from "../../../src/mount/things/edges.js";
import { planView } from "../../../src/plots/drawing/plan.js";
import { sceneOf } from "../../../src/plots/drawing/scene.js";
import { cutOf, sectionView } from "../../../src/plots/drawing/section.js";
import { elementLooks } from "../../../src/plots/elements.js";
import { exampleMount } from "../../mount/example.js";
import { chipOnCarrier, flipChip } from "../../mount/flip-chip.js";
import { wellFormed } from "../xml.js";

const mount: Mount = exampleMount();
const { pads: _pads, bonds, ledge, ...bare } = mount;
const film = { material: "gold", thickness: "300 nm", residualResistivityRatio: 5 } as const;
const faces = "gold-plated copper on gold-plated copper";
const nasty = `<script>alert("x")</script>&'\u0007`;
const mounts: Record<string, Mount> = {
  "bonds on pads": mount,
  "a ring, bonds on two edges and clamps": {
    ...bare,
    ring: { ...film, width: "0.5 mm" },
    bonds: { ...bonds!, edges: ["lower", "upper"] },
    ledge: ledge!,
    clamps: [{ name: nasty, faces: "sapphire on silicon", force: "5 N", count: 4, size: "1.5 mm" }],
  },
  "glue and a spot of light": {
    ...bare,
    glue: { glue: "epoxy", area: "9 mm^2", thickness: "30 um", count: 5 },
    loads: [
      {
        kind: "given",
        name: nasty,
        power: "1 nW",
        map: { kind: "spot", x: "8 mm", y: "9 mm", radius: "1 mm" },
      },
    ],
  },
  "a flip chip": flipChip,
  "a chip on a carrier beside another": chipOnCarrier,
  "a pressed back with a warm wire": {
    ...bare,
    name: nasty,
    die: { ...mount.die, width: "10 mm", length: "30 mm" },
    back: { film, frame: "1 mm", joint: { faces, force: "20 N" } },
    loads: [
      {
        kind: "conduction",
        material: "phosphor-bronze",
        length: "50 mm",
        diameter: "0.1 mm",
        from: "1 K",
      },
    ],
  },
};

describe.each(Object.entries(mounts))("the drawing of %s", (_, each) => {
  const drawing = mountDrawing(each);

  it("is well-formed SVG in both widths, with words for those who can't see it", () => {
    for (const svg of [drawing.svg, drawing.narrow]) {
      expect(wellFormed(svg)).toBe(true);
      expect(svg).toMatch(
        /<title id="[^"]+">.+<\/title><desc id="[^"]+">Plan and section of the mount: /,
      );
      expect(svg).not.toMatch(/NaN|undefined|Infinity|<script/);
      expect(svg).toMatch(/prefers-color-scheme:dark/);
    }
  });

  it("lists every part by number, in words and in the plan or section", () => {
    const parts = drawnParts(readMount(each));
    parts.forEach(({ name }, i) => {
      const bubbles =
        drawing.svg.match(new RegExp(`font-size="11"[^>]*>${i + 1}</text>`, "g")) ?? [];
      expect(bubbles.length, name).toBeGreaterThan(1);
    });
    expect(drawing.alt).toContain("die (silicon, ");
  });
});

describe("what the drawing says", () => {
  const { svg } = mountDrawing(mount);

  it("gives dimensions, materials, the scale and what is not to scale", () => {
    const texts = [...svg.matchAll(/<text[^>]*>([^<]*)<\/text>/g)].map((found) => found[1]);
    const said = texts.join(" ").replaceAll("\u00a0", " ");
    for (const text of [
      "silicon, 25 mm × 25 mm, 380 µm thick",
      "gold, 25 µm wire, 1.5 mm long, RRR 30",
      "0 5 mm",
      "Section A–A, heights not to scale",
      "Heights are stretched: part 1 by",
      "gold-plated copper on gold-plated copper, 4 bolts, 1 kN each",
      "held at 110 mK",
    ]) {
      expect(said).toContain(text);
    }
  });

  it("draws pads to scale: their rectangles measure what the die's does, times the ratio of the sides", () => {
    const rects = [
      ...svg.matchAll(
        /<rect x="[\d.]+" y="[\d.]+" width="([\d.]+)" height="([\d.]+)" fill="(#\w{6})"/g,
      ),
    ];
    const die = rects.find(([, , , fill]) => fill === elementLooks.die.tint)!;
    const pads = rects.filter(([, , , fill]) => fill === elementLooks.film.tint);
    expect(Number(die[1])).toBeCloseTo(Number(die[2]), 1);
    // 150 µm by 300 µm on 25 mm.
    const isAs = (size: string | undefined, millimetres: number) =>
      Math.abs(Number(size) / Number(die[1]) - millimetres / 25) < 1e-4;
    expect(pads.filter(([, w, h]) => isAs(w, 0.15) && isAs(h, 0.3))).toHaveLength(40);
    expect(pads.filter(([, w, h]) => isAs(w, 0.3) && isAs(h, 0.15))).toHaveLength(40);
  });

  it("draws one wire for each bond", () => {
    const wires = /<path d="((?:M[-\d. ]+L[-\d. ]+)+)"[^>]*stroke-linecap="round"/.exec(svg)![1]!;
    expect(wires.match(/M/g)).toHaveLength(80);
  });

  it("escapes what users write and leaves out what XML forbids", () => {
    const { svg: drawn } = mountDrawing(mounts["a pressed back with a warm wire"]!);
    expect(drawn).toContain("&lt;script&gt;alert(&quot;x&quot;)&lt;/script&gt;&amp;&#39;");
    expect(drawn).not.toContain("\u0007");
  });

  it("says when bonds are drawn shorter than they are", () => {
    const long = { ...mount, bonds: { ...bonds!, length: "60 mm" as const } };
    expect(mountDrawing(long).svg.replaceAll("\u00a0", " ")).toContain(
      "Bonds are 60 mm long and drawn shorter.",
    );
    expect(svg).not.toContain("drawn shorter");
  });

  it("refuses what does not fit, by its field", () => {
    const crowded = { ...mount, bonds: { ...bonds!, count: 5000 } };
    expect(() => mountDrawing(crowded)).toThrow(/^bonds\.count: /);
  });
});

describe("a part of a kind that no view knows", () => {
  it.each(["film", "clamp", "glue", "back"] as const)("is drawn and numbered as a %s", (look) => {
    const plain = readMount(mounts["glue and a spot of light"]!);
    const places = [{ left: 2e-3, right: 5e-3, bottom: 8e-3, top: 12e-3 }];
    const part = { kind: "new", look, name: "new thing", details: [], places };
    const parts = [...drawnParts(plain), part];
    const scene = sceneOf(plain, parts, "c1", 300);
    const cut = cutOf(plain, parts);
    for (const view of [planView, sectionView])
      expect(view(scene, cut).body).toContain(`>${parts.length}</text>`);
  });
});

describe("feet of bonds", () => {
  it("stand in the middle of their pads, side by side where a pad has several", () => {
    const plain = readMount({ ...mount, bonds: { ...bonds!, count: 5, perPad: 2, edges: 1 } });
    const feet = bondFeet(plain);
    expect(feet).toHaveLength(5);
    expect(new Set(feet.map(({ edge }) => edge))).toEqual(new Set(["lower"]));
    // Pads are 300 µm deep, on the edge.
    for (const { y } of feet) expect(y).toBeCloseTo(0.15e-3, 9);
    expect(new Set(feet.map(({ x }) => x.toFixed(7))).size).toBe(5);
  });
});
