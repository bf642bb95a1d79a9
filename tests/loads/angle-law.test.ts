import { describe, expect, test } from "vitest";
import { boxSum, faceSum, skySum } from "../../src/loads/angle-law.js";

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

  test("cross it on ways that fill its volume, as drawn lines do", () => {
    const tilt = 0.4;
    const [s, c] = [Math.sin(tilt), Math.cos(tilt)];
    const sides = [box.width, box.length, box.thickness];
    const radius = Math.hypot(...sides) / 2;
    const draw = generator(7);
    const drawn = 400_000;
    let [hits, way] = [0, 0];
    for (let i = 0; i < drawn; i++) {
      const z = draw();
      const azimuth = 2 * Math.PI * draw();
      const flat = Math.sqrt(1 - z * z);
      const [x, y] = [flat * Math.cos(azimuth), flat * Math.sin(azimuth)];
      // In the box's own axes: turned about its width.
      const along = [y, c * x - s * z, s * x + c * z];
      // A point of the disc across the line, from two vectors at right angles to it.
      const [r, turn] = [radius * Math.sqrt(draw()), 2 * Math.PI * draw()];
      const side = unit(cross(along, Math.abs(along[0]!) < 0.9 ? [1, 0, 0] : [0, 1, 0]));
      const other = cross(along, side);
      const point = side.map((u, k) => r * (Math.cos(turn) * u + Math.sin(turn) * other[k]!));
      let [enter, leave] = [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY];
      for (let k = 0; k < 3; k++) {
        const ends = [-1, 1].map((sign) => ((sign * sides[k]!) / 2 - point[k]!) / along[k]!);
        enter = Math.max(enter, Math.min(...ends));
        leave = Math.min(leave, Math.max(...ends));
      }
      if (leave <= enter) continue;
      hits += z ** 2;
      way += z ** 2 * (leave - enter);
    }
    const each = (2 * Math.PI * Math.PI * radius ** 2) / drawn;
    // 4e5 lines: about 0.5 %
    expect(Math.abs((hits * each) / boxSum(box, tilt, 2) - 1)).toBeLessThan(0.015);
    expect(Math.abs((way * each) / (1.2e-7 * skySum(2)) - 1)).toBeLessThan(0.015);
  });
});

/** Numbers from 0 to 1 by a linear congruence (Numerical Recipes, 2007, section 7.1). */
function generator(seed: number): () => number {
  let state = seed;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return (state + 0.5) / 2 ** 32;
  };
}

function cross(a: readonly number[], b: readonly number[]): number[] {
  return [0, 1, 2].map((k) => {
    const [i, j] = [(k + 1) % 3, (k + 2) % 3];
    return a[i]! * b[j]! - a[j]! * b[i]!;
  });
}

function unit(a: readonly number[]): number[] {
  const length = Math.hypot(...a);
  return a.map((component) => component / length);
}
