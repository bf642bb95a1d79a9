import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { boxSum, faceSum, meanPathInBox, skySum } from "../../src/loads/angle-law.js";

/** Midpoint sum over the upper half of directions, in z = cosθ and azimuth. */
function overSky(f: (x: number, y: number, z: number) => number, exponent: number): number {
  const n = 600;
  let sum = 0;
  for (let i = 0; i < n; i++) {
    const z = (i + 0.5) / n;
    const across = Math.sqrt(1 - z * z);
    for (let j = 0; j < n; j++) {
      const azimuth = (2 * Math.PI * (j + 0.5)) / n;
      sum += z ** exponent * f(across * Math.cos(azimuth), across * Math.sin(azimuth), z);
    }
  }
  return (2 * Math.PI * sum) / n ** 2;
}

describe("particles through a face", () => {
  test("are 2π/(n + 2) when it is horizontal, and for cos² π/4 from both sides when it is vertical", () => {
    for (const n of [0, 1, 2, 3.5]) expect(faceSum(0, n)).toBeCloseTo((2 * Math.PI) / (n + 2), 9);
    expect(faceSum(Math.PI / 2, 2)).toBeCloseTo(Math.PI / 4, 9);
  });

  test("of any tilt and power are those of a sum over directions", () => {
    for (const tilt of [0.2, 0.7, 1.2, 1.5]) {
      for (const n of [0, 2, 3]) {
        const [s, c] = [Math.sin(tilt), Math.cos(tilt)];
        const summed = overSky((x, _y, z) => Math.abs(s * x + c * z), n);
        expect(faceSum(tilt, n) / summed).toBeCloseTo(1, 4);
      }
    }
  });

  test("are the same for a tilt to either side, and for the face turned over", () => {
    for (const tilt of [0.3, 1]) {
      expect(faceSum(-tilt, 2)).toBeCloseTo(faceSum(tilt, 2), 9);
      expect(faceSum(Math.PI - tilt, 2)).toBeCloseTo(faceSum(tilt, 2), 9);
    }
  });
});

describe("particles through a box", () => {
  const box = { width: 10e-3, length: 6e-3, thickness: 2e-3 };

  test("are those of a sum over the shadows it throws", () => {
    const tilt = 0.6;
    const [s, c] = [Math.sin(tilt), Math.cos(tilt)];
    const shadow = (x: number, y: number, z: number) =>
      6e-5 * Math.abs(s * x + c * z) + 2e-5 * Math.abs(c * x - s * z) + 1.2e-5 * Math.abs(y);
    expect(boxSum(box, tilt, 2) / overSky(shadow, 2)).toBeCloseTo(1, 4);
  });

  test("do not tell a cube's upright side from its top but by the angle law", () => {
    const cube = { width: 1, length: 1, thickness: 1 };
    expect(boxSum(cube, Math.PI / 2, 2)).toBeCloseTo(boxSum(cube, 0, 2), 9);
    // Of an even sky every tilt is alike: 3 faces of π each.
    expect(boxSum(cube, 0.9, 0)).toBeCloseTo(3 * Math.PI, 6);
  });

  test("times their mean path fill the volume, whatever the tilt", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: Math.PI, noNaN: true }),
        fc.double({ min: 0, max: 5, noNaN: true }),
        (tilt, n) => {
          const filled = boxSum(box, tilt, n) * meanPathInBox(box, tilt, n);
          expect(filled / (1.2e-7 * skySum(n))).toBeCloseTo(1, 12);
        },
      ),
      { seed: 3, numRuns: 50 },
    );
  });
});
