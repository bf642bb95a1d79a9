import { describe, expect, test } from "vitest";
import { heatFlow } from "../../src/conductor.js";
import { strip } from "../../src/joints/strip.js";
import { conduction } from "../../src/loads/wiring.js";
import { catalogue } from "../joints/hand-made.js";

const wires = {
  material: "metal",
  diameter: "0.1 mm",
  length: "200 mm",
  count: 24,
  warm: "4 K",
  cold: "100 mK",
} as const;

describe("conduction", () => {
  test("is count times area over length times the integral of the conductivity", () => {
    const load = conduction(wires, catalogue());
    const area = (Math.PI * 1e-8) / 4;
    expect(load.power / (((24 * area) / 0.2) * (16 - 0.01))).toBeCloseTo(1, 9);
    expect(load.name).toBe("metal");
    expect(load.details["integral of the conductivity [W/m]"]).toBeCloseTo(15.99, 12);
    expect(load.provenance).toHaveLength(6);
  });

  test("is the heat that a strip carries in a network", () => {
    const { warm: _, cold: __, ...shape } = wires;
    const link = strip(shape, catalogue());
    expect(conduction(wires, catalogue()).power / heatFlow(link, 4, 0.1)).toBeCloseTo(1, 12);
  });

  test("refuses temperatures where the conductivity has no source", () => {
    expect(() => conduction({ ...wires, warm: "300 K" }, catalogue())).toThrow(
      "made-up: 300 K is above 10 K",
    );
  });

  test.each([
    [{ cold: "5 K" }, 'loom.cold: expected a temperature up to warm (4.00 K), got "5 K"'],
    [{ area: "1 mm^2" }, 'loom: expected either a diameter or an area, got "both"'],
    [{ diameter: undefined }, 'loom: expected either a diameter or an area, got "neither"'],
    [{ count: 0 }, "loom.count: expected a whole number of at least 1, got 0"],
    [{ length: "0 m" }, "loom.length: expected a length"],
    [{ material: "meta" }, 'loom.material: material "meta" is not known, did you mean "metal"?'],
  ])("refuses %j", (change, message) => {
    expect(() => conduction({ ...wires, ...change } as never, catalogue(), "loom")).toThrow(
      message,
    );
  });
});
