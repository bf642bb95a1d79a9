import { describe, expect, it } from "vitest";
import { type Band, flowPlaces, type Stop } from "../../../src/plots/drawing/flow-places.js";

/** A die with a heavy and several light paths to a box, one of them in two steps, and its loads. */
const stops: readonly Stop[] = [
  { name: "light on the pixels", kind: "load", power: 11 },
  { name: "pins of the coaxial lines", kind: "load", power: 0.01 },
  { name: "die", kind: "place", power: 11.01 },
  { name: "pad boundary of the south side", kind: "boundary", power: 0.5 },
  { name: "pads of the south side", kind: "place", power: 0.5 },
  { name: "bonds of the south side", kind: "bonds", power: 0.3 },
  { name: "ribbons of the south side", kind: "bonds", power: 0.2 },
  { name: "bonds of the north side", kind: "bonds", power: 0.02 },
  { name: "clamps", kind: "clamps", power: 0.4 },
  { name: "pressed back", kind: "back", power: 10.09 },
  { name: "shields of the coaxial lines", kind: "load", power: 60 },
  { name: "box", kind: "place", power: 71.01 },
];
const bands: readonly Band[] = [
  [0, 2],
  [1, 2],
  [2, 3],
  [3, 4],
  [4, 5],
  [4, 6],
  [5, 11],
  [6, 11],
  [2, 7],
  [7, 11],
  [2, 8],
  [8, 11],
  [2, 9],
  [9, 11],
  [10, 11],
].map(([from, to]) => ({
  from: from!,
  to: to!,
  power: Math.min(stops[from!]!.power, stops[to!]!.power),
}));

interface Box {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

/** Points along a path of lines and cubic curves. */
function pointsOf(d: string): readonly (readonly [number, number])[] {
  const points: (readonly [number, number])[] = [];
  let at: readonly number[] = [];
  for (const [, kind, values] of d.matchAll(/([MLC])([^MLC]*)/g)) {
    const [x1, y1, x2, y2, x, y] = values!.trim().split(/[ ,]+/).map(Number) as [
      number,
      number,
      number,
      number,
      number,
      number,
    ];
    const ends = kind === "C" ? [x, y] : [x1, y1];
    for (let k = 0; k <= 60 && kind !== "M"; k++) {
      const t = k / 60;
      const way = (i: 0 | 1, c1: number, c2: number) =>
        kind === "L"
          ? at[i]! + t * (ends[i]! - at[i]!)
          : (1 - t) ** 3 * at[i]! +
            3 * t * (1 - t) ** 2 * c1 +
            3 * t ** 2 * (1 - t) * c2 +
            t ** 3 * ends[i]!;
      points.push([way(0, x1, x2), way(1, y1, y2)]);
    }
    at = ends;
  }
  return points;
}

describe.each([680, 350])("a heat flow %i px wide", (width) => {
  const { places, paths, bottom } = flowPlaces({ stops, bands }, width, width < 500);

  it("lets no thin band run through words, and no words meet others or marks", () => {
    const thin = paths.filter(({ thick }) => thick < 8);
    expect(thin.length).toBeGreaterThan(5);
    const met = thin.flatMap(({ d, thick }) =>
      pointsOf(d).flatMap(([x, y]) =>
        places
          .filter(
            ({ label }) =>
              x > label.left &&
              x < label.right &&
              y + thick / 2 > label.top + 0.1 &&
              y < label.bottom,
          )
          .map(({ lines }) => [lines.join(" "), x, y]),
      ),
    );
    expect(met).toEqual([]);
    const boxes = places.flatMap(({ label, mark }) => [label, mark]);
    const meets = (a: Box, b: Box) =>
      a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
    const pairs = boxes.flatMap((a, i) => boxes.slice(i + 1).map((b) => [a, b] as const));
    expect(pairs.filter(([a, b]) => meets(a, b))).toEqual([]);
  });

  it("keeps all inside, marks as high as their heat", () => {
    for (const { mark, label } of places) {
      expect(Math.min(mark.left, mark.top)).toBeGreaterThan(0);
      expect(Math.max(mark.right, label.right)).toBeLessThan(width + 1e-6);
      expect(Math.max(mark.bottom, label.bottom)).toBeLessThanOrEqual(bottom);
    }
    const high = ({ mark }: (typeof places)[number]) => mark.bottom - mark.top;
    expect(high(places[10]!) / high(places[0]!)).toBeCloseTo(60 / 11, 6);
  });
});

it("numbers the stops where the columns are too many for words", () => {
  const chain = Array.from({ length: 14 }, (_, i): Stop => {
    return { name: `a place of many words ${i}`, kind: "place", power: 1 };
  });
  const links = chain.slice(1).map((_, i) => ({ from: i, to: i + 1, power: 1 }));
  const { isNumbered, places } = flowPlaces({ stops: chain, bands: links }, 680, false);
  expect(isNumbered).toBe(true);
  expect(places.map(({ lines }) => lines)).toEqual(chain.map((_, i) => [String(i + 1)]));
});
