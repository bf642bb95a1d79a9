import { describe, expect, it } from "vitest";
import { powerMap, stripsOf } from "../../src/mount/power-map.js";

const at = (x: number, y: number) => ({ x, y });
const sum = (all: readonly { readonly power: number }[]) =>
  all.reduce((total, { power }) => total + power, 0);

describe("the map of a load", () => {
  it("is even where none is given, and keeps what is", () => {
    expect(powerMap(undefined, 3)).toEqual({ kind: "uniform", power: 3 });
    const over = { left: 1, right: 2, bottom: 3, top: 4 };
    expect(powerMap({ kind: "rectangle", ...over }, 3)).toEqual({
      kind: "rectangle",
      power: 3,
      over,
    });
    const spot = { kind: "spot", ...at(1, 2), radius: 0.1 } as const;
    expect(powerMap(spot, 3)).toEqual({ ...spot, power: 3 });
  });

  it("shares its power among pixels by their weights, whatever the size of these", () => {
    const rows = [
      [1, 2],
      [0, 5],
    ];
    const wanted = [
      [0.5, 1],
      [0, 2.5],
    ];
    expect(powerMap({ kind: "pixels", rows }, 4)).toEqual({ kind: "pixels", rows: wanted });
    // Their sum is beyond the range of numbers.
    const huge = rows.map((row) => row.map((weight) => weight * 3e307));
    const { rows: found } = powerMap({ kind: "pixels", rows: huge }, 4) as {
      readonly rows: readonly (readonly number[])[];
    };
    expect(found.flat()).toEqual(wanted.flat().map((power) => expect.closeTo(power, 12)));
  });

  it("leaves along a line what is left of a signal: half after 3.01 dB", () => {
    const loss = 10 * Math.log10(4);
    const route = [at(0, 0), at(3, 0), at(3, 3)];
    const strips = stripsOf([{ route, loss }], 1);
    // A quarter is left in all: the first half of the way takes 1/2, the second 1/4, of 3/4 in all.
    const first = strips.filter(({ to }) => to.y === 0);
    expect(sum(first)).toBeCloseTo(2 / 3, 12);
    expect(sum(strips)).toBeCloseTo(1, 12);
    expect(strips.length).toBe(2 * Math.ceil(loss / 2 / 0.25));
    // Without a loss each side of a right angle takes its share of the length.
    expect(
      stripsOf([{ route: [at(0, 0), at(1, 0), at(1, 3)] }], 1).map(({ power }) => power),
    ).toEqual([0.25, 0.75]);
  });

  it("shares its power among lines, equally where none says otherwise", () => {
    const [one, other] = [
      [at(0, 0), at(1, 0)],
      [at(0, 1), at(5, 1)],
    ].map((route) => ({ route }));
    expect(stripsOf([one!, other!], 6).map(({ power }) => power)).toEqual([3, 3]);
    expect(stripsOf([{ ...one!, share: 2 }, other!], 6).map(({ power }) => power)).toEqual([4, 2]);
  });
});
