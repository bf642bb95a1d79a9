import { describe, expect, it } from "vitest";
import { withField } from "../../../src/design/field.js";
import { allThings, drawnParts, type Mount } from "../../../src/mount/mount.js";
import { readMount } from "../../../src/mount/read.js";
import {
  catalogue,
  conductorOf,
  debye,
  itBalances,
  itReads,
  itTouches,
  length,
  maybe,
  name,
  number,
  oneOf,
  padded,
  siliconPhonons,
  smallest,
  storeOf,
} from "./smallest.js";

const mount = smallest();
const free = withField(smallest(padded), "die.meanFreePath", 1e-3);
const spread = (die: typeof mount) =>
  conductorOf(die, "spreading in the die", "two nodes").conductance(0.2);

describe("a die", () => {
  itReads(mount, "die", {
    material: name,
    width: length,
    length,
    thickness: length,
    meanFreePath: maybe(length),
    specularity: maybe(number("a number from 0 to below 1", 0.5, -0.1, 1)),
    finish: undefined,
    bulkLength: maybe(length),
    model: maybe(oneOf("sheet", "flights", "two nodes", "one node")),
    cells: maybe(number("a power of two from 8 to 512", 64, 4, 48, 1024, 16.5)),
    rays: maybe(number("a whole number from 256 to 16777216", 4096, 0, 16.5, 2 ** 25)),
  });
  itBalances(mount);
  itTouches(mount, ["clamps"]);

  it("has the model that it names, or flights where it tells of its faces and no die of a free path", () => {
    const of = (die: Partial<Mount["die"]>, more: Partial<Mount> = {}) =>
      readMount({ ...mount, ...more, die: { ...mount.die, ...die } }).die.model;
    const finish = { front: "polished" };
    expect(
      [{}, { specularity: 0.9 }, { meanFreePath: "1 mm" as const }].map((die) => of(die)),
    ).toEqual(["sheet", "sheet", "sheet"]);
    expect([{ finish }, { bulkLength: 1e-3 }, { rays: 512 }].map((die) => of(die))).toEqual([
      "flights",
      "flights",
      "flights",
    ]);
    expect(of({ finish, meanFreePath: "1 mm" })).toBe("sheet");
    for (const model of ["sheet", "flights", "two nodes", "one node"] as const) {
      expect(of({ finish, model })).toBe(model);
    }
    const { model: _, ...plate } = { ...mount.die, meanFreePath: 1e-3 };
    const more = {
      dies: { top: { die: plate } },
      between: [{ from: "top", to: "die", joint: { conductance: 1e-9, at: 0.1, exponent: 3 } }],
    } as const;
    expect(of({ finish }, more)).toBe("sheet");
    // Read once more, it is what it was.
    expect(readMount(readMount({ ...mount, die: { ...mount.die, finish } })).die.model).toBe(
      "flights",
    );
  });

  it("says what has no effect, of the model that was taken", () => {
    const told = (die: Partial<Mount["die"]>) =>
      allThings
        .flatMap(
          ([, { warnings }]) =>
            warnings?.(readMount({ ...mount, die: { ...mount.die, ...die } }), catalogue) ?? [],
        )
        .filter((text) => text.includes("without effect"));
    const words = (field: string) =>
      `die.${field}: without effect, since the model of the die is not "flights".`;
    expect(told({ bulkLength: 1e-3 })).toEqual([]);
    expect(told({ bulkLength: 1e-3, model: "one node" })).toEqual([words("bulkLength")]);
    expect(told({ rays: 512, meanFreePath: 1e-3 })).toEqual([words("rays")]);
  });

  it("is a plate, at most a quarter of its shorter side thick", () => {
    expect(() => readMount(withField(mount, "die.thickness", 1e-3))).not.toThrow();
    expect(() => readMount(withField(mount, "die.thickness", 1.001e-3))).toThrow(
      "die.thickness: expected a plate, at most a quarter of its shorter side, 1 mm, got 0.001001 (1.001 mm)",
    );
  });

  it("spreads its heat by Casimir's conductivity, on to one edge or to four", () => {
    // Heated evenly and cooled at its lower edge: ΔΘ = P (length/width)/(2 × thickness).
    const one = withField(withField(free, "bonds.edges", 1), "die.length", 3e-3);
    const kappa = siliconPhonons * 1e-3 * 0.2 ** 3;
    expect(spread(one) / ((kappa * 3e-4 * 2 * 4) / 3)).toBeCloseTo(1, 8);
    // Cooled at two opposite edges, a quarter of that.
    expect(spread(withField(one, "bonds.edges", 2)) / spread(one)).toBeCloseTo(4, 10);
    // A square cooled on all sides: 0.07367, Timoshenko & Goodier, Theory of Elasticity, torsion of a square.
    expect(spread(free) / ((kappa * 3e-4) / 0.07367)).toBeCloseTo(1, 4);
  });

  it("stores the heat of Debye's law", () => {
    const volume = 4e-3 * 4e-3 * 3e-4;
    const C = debye(2329, 28.0855e-3, 645) * volume * 0.1 ** 3;
    expect(storeOf(mount, "die").heatCapacity(0.1) / C).toBeCloseTo(1, 8);
    const parts = ["die, middle", "die, edges"].map((each) =>
      storeOf(mount, each, "two nodes").heatCapacity(0.1),
    );
    expect((parts[0]! + parts[1]!) / C).toBeCloseTo(1, 8);
    // The middle stores mean rise over highest, 0.03514/0.07367 for a square.
    expect(parts[0]! / C).toBeCloseTo(0.477, 3);
  });

  it("is drawn with its whole face", () => {
    const [drawn] = drawnParts(readMount(mount));
    expect(drawn).toMatchObject({ kind: "die", places: [{ left: 0, right: 4e-3 }] });
    expect(drawn!.details).toEqual(["silicon", "4 mm × 4 mm, 300 µm thick"]);
  });
});
