import { describe, expect, test } from "vitest";
import { padFilm, padSquares } from "../../src/joints/spreading.js";
import { catalogue } from "./hand-made.js";

/** Mean over rings of even heat flowing inward to a foot of radius 1, insulated at `ratio`. */
function byRings(ratio: number, n: number): number {
  const step = (ratio - 1) / n;
  let [theta, mean] = [0, 0];
  for (let i = 0; i < n; i++) {
    const r = 1 + (i + 0.5) * step;
    const rise = ((ratio ** 2 - r * r) / (2 * r)) * step;
    mean += (theta + rise / 2) * 2 * Math.PI * r * step;
    theta += rise;
  }
  const area = Math.PI * (ratio ** 2 - 1);
  return mean / area / area;
}

describe("padSquares", () => {
  test.each([1.05, 1.5, 4, 30])("agrees with a sum over rings at a ratio of %s", (ratio) => {
    expect(padSquares(ratio) / byRings(ratio, 20000)).toBeCloseTo(1, 5);
  });

  test("tends to [ln(b/a) − 3/4]/2π for a small foot, and to a thin strip for a large one", () => {
    expect(padSquares(1e4)).toBeCloseTo((Math.log(1e4) - 0.75) / (2 * Math.PI), 6);
    expect(padSquares(1.0004) / padSquares(1.0006)).toBeCloseTo(4 / 6, 2);
  });
});

describe("padFilm", () => {
  const pad = {
    metal: "metal",
    area: "0.1 mm^2",
    thickness: "300 nm",
    footRadius: "40 um",
  } as const;

  test("is thickness over squares, times the integral of the conductivity", () => {
    const ratio = Math.sqrt(1e-7 / Math.PI) / 40e-6;
    const film = padFilm(pad, catalogue());
    expect(film.conductance(0.1) / ((2 * 0.1 * 300e-9) / padSquares(ratio))).toBeCloseTo(1, 9);
    expect(film.provenance).toHaveLength(4);
  });

  test.each([
    [
      { thickness: 0 },
      'pad.thickness: expected a length such as "25 um" or a number in metres, greater than 0, got 0',
    ],
    [
      { footRadius: "0.3 mm" },
      "pad.footRadius: expected a foot smaller than the pad, below 178 µm",
    ],
    [{ area: "1 mm" }, 'pad.area: expected an area such as "4 mm^2"'],
    [{ metal: "metall" }, 'pad.metal: material "metall" is not known, did you mean "metal"?'],
  ])("refuses %j", (change, message) => {
    expect(() => padFilm({ ...pad, ...change } as never, catalogue(), "pad")).toThrow(message);
  });
});
