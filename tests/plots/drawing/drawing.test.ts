import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Mount, mountDrawing } from "../../../src/index.js";
import { drawnParts } from "../../../src/mount/mount.js";
import { readMount } from "../../../src/mount/read.js";
import { bondFeet } from "../../../src/mount/things/edges.js";
import { planView } from "../../../src/plots/drawing/plan.js";
import { cross, leaders, sceneOf } from "../../../src/plots/drawing/scene.js";
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

describe("a real box", () => {
  const pad = { ...film, width: "1 mm", length: "0.4 mm" } as const;
  const copper = { material: "copper", residualResistivityRatio: 50 } as const;
  const wire = { material: "gold", diameter: "25 um", length: "1.5 mm" } as const;
  const keepOut = [{ from: "10 mm", to: "15 mm" }] as const;
  const boxed: Mount = {
    ...bare,
    padGroups: [
      { ...pad, name: "south", edge: "lower", count: 8, keepOut },
      { ...pad, name: "north", edge: "upper", count: 8, keepOut },
    ],
    bondGroups: [
      { ...wire, pads: "south" },
      { ...wire, pads: "north" },
      { ...wire, name: "more", pads: "north" },
    ],
    clamps: [{ faces: "sapphire on silicon", force: "5 N", count: 4 }],
    glue: { glue: "epoxy", area: "9 mm^2", thickness: "30 um", places: [{ x: "4 mm", y: "4 mm" }] },
    path: [
      { kind: "joint", name: "flange", joint: { faces, force: "1 kN", count: 4 } },
      { kind: "bar", name: "finger", ...copper, crossSection: "50 mm^2", length: "50 mm" },
      {
        kind: "plate",
        name: "plate",
        ...copper,
        thickness: 3e-3,
        innerRadius: 5e-3,
        outerRadius: 5e-2,
      },
      { kind: "strap", name: "strap", ...copper, strands: 40, diameter: 2e-4, length: 5e-2 },
    ],
    loads: [
      {
        kind: "readout",
        dissipatedFraction: 0.3,
        lines: [5, 10].map((y, i) => ({
          name: `line ${i}`,
          tones: 100,
          power: "-60 dBm" as const,
          route: [1, 24].map((x) => ({ x: `${x} mm`, y: `${y} mm` }) as const),
        })),
      },
    ],
  };
  const plain = readMount(boxed);
  const parts = drawnParts(plain);
  const scene = sceneOf(plain, parts, "id", 300);
  const cut = cutOf(plain, parts);
  const [plan, section] = [planView(scene, cut).body, sectionView(scene, cut).body];

  it("numbers every part in the plan or in the section, with lines that cross nowhere", () => {
    expect(parts.length).toBeGreaterThan(16);
    for (const body of [plan, section]) {
      const lines = [
        ...body.matchAll(
          /<path d="M([\d.]+) ([\d.]+)L([\d.]+) ([\d.]+)" fill="none" stroke="#\w+" stroke-width="0.8"\/><circle/g,
        ),
      ].map(([, ...ends]) => ends.map(Number) as [number, number, number, number]);
      expect(lines.length).toBeGreaterThan(7);
      lines.forEach(([a, b, c, d], i) => {
        for (const [p, q, r, s] of lines.slice(0, i)) {
          expect(cross([a, b], [c, d], [p, q], [r, s])).toBe(false);
        }
      });
    }
    parts.forEach(({ name }, i) => {
      expect(plan + section, name).toMatch(new RegExp(`font-size="11"[^>]*>${i + 1}</text>`));
    });
  });

  it("shows keep-outs in both views, feed lines with their ends, and where each bolt is", () => {
    // Dotted: their outline and a diagonal in the plan, their outline in the section.
    expect(plan.match(/stroke-dasharray="1.5 2"/g)).toHaveLength(4);
    expect(section.match(/stroke-dasharray="1.5 2"/g)).toHaveLength(2);
    expect(plan.match(/<circle[^>]*r="2.5"/g)).toHaveLength(4);
    // A head and a shaft each: four bolts at the flange, and as many as the joint to the stage has.
    const bolts = section.match(new RegExp(`fill="${elementLooks.joint.tint}"`, "g")) ?? [];
    expect(bolts).toHaveLength(2 * (boxed.joint as { count: number }).count);
    expect(plan.match(/>A<\/text>/g)).toHaveLength(2);
  });

  it("is as large as asked for where it is printed at its own size", () => {
    const drawn = mountDrawing(boxed, { scale: 3 }).svg;
    const [, wide, high, width] = /viewBox="0 0 ([\d.]+) ([\d.]+)" width="([\d.]+)mm"/.exec(drawn)!;
    expect(Number(high)).toBeGreaterThan(0);
    const die = new RegExp(`<rect [^>]*width="([\\d.]+)"[^>]*fill="${elementLooks.die.tint}"`).exec(
      drawn,
    )!;
    // 25 mm, three times.
    expect((Number(die[1]) * Number(width)) / Number(wide)).toBeCloseTo(75, 0);
    expect(() => mountDrawing(boxed, { scale: 0 })).toThrow("scale: expected a number of times");
  });
});

describe("lines from places to their numbers", () => {
  it("cross nowhere, wherever the places are", () => {
    const place = fc.tuple(
      fc.double({ min: 40, max: 260, noNaN: true }),
      fc.double({ min: 0, max: 200, noNaN: true }),
    );
    fc.assert(
      fc.property(fc.array(fc.tuple(place, place), { minLength: 2, maxLength: 20 }), (places) => {
        const marks = places.map(([[x, y], left]) => ({
          part: { name: `${x}` } as never,
          x,
          y,
          left,
        }));
        const lines = leaders(marks, { left: 10, right: 290, top: 0, bottom: 200 });
        expect(lines).toHaveLength(places.length);
        lines.forEach((a, i) => {
          for (const b of lines.slice(0, i)) expect(cross(a.from, a.to, b.from, b.to)).toBe(false);
        });
      }),
      { seed: 5, numRuns: 200 },
    );
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
