import { describe, expect, it } from "vitest";
import { withField } from "../../../src/design/field.js";
import { thermalBudget } from "../../../src/mount/budget.js";
import { drawnParts } from "../../../src/mount/mount.js";
import { readMount } from "../../../src/mount/read.js";
import type { ConductionLoad } from "../../../src/mount/things/conduction.js";
import { drawn } from "./films.js";
import {
  area,
  conductorOf,
  count,
  dieModels,
  itBalances,
  itReads,
  itTouches,
  length,
  maybe,
  modelOf,
  name,
  oneOf,
  padded,
  purity,
  smallest,
  temperature,
} from "./smallest.js";

const wire: ConductionLoad = {
  kind: "conduction",
  name: "support",
  material: "nbti",
  count: 3,
  length: 5e-2,
  diameter: 1e-4,
  from: 0.9,
};
const on = (changes: Partial<ConductionLoad>) =>
  smallest({
    ...padded,
    loads: [
      { kind: "given", power: 1e-9 },
      { ...wire, ...changes },
    ],
  });
const mount = on({});

describe("a wire from a warm end", () => {
  itReads(mount, "loads[1]", {
    kind: undefined,
    name: maybe(name),
    on: maybe(name),
    place: undefined,
    material: name,
    diameter: maybe(length),
    width: maybe(length),
    thickness: maybe(length),
    area: maybe(area),
    length,
    count: maybe(count),
    residualResistivityRatio: maybe(purity),
    state: maybe(oneOf("superconducting", "normal")),
    meanFreePath: maybe(length),
    sample: maybe(name),
    from: temperature,
  });
  itBalances(mount);
  itBalances(on({ on: "box" }));

  const alone = { ...wire, place: { x: 2e-3, y: 1.5e-3 } };
  itTouches(smallest({ loads: [alone] }), ["clamps", "loads[0]"]);

  it("conducts κ A/ℓ: Θ = 0.02/3 W/(m K³) (T/1 K)³ A/ℓ of niobium-titanium below 1 K", () => {
    const { integral, count: often } = conductorOf(mount, "support");
    const shape = ((Math.PI / 4) * 1e-4 ** 2) / 5e-2;
    const heat = (0.02 / 3) * (0.9 ** 3 - 0.1 ** 3) * shape;
    expect((integral(0.9) - integral(0.1)) / heat).toBeCloseTo(1, 8);
    expect(often).toBe(3);
  });

  it.each(dieModels)("brings that heat three times, on a die with model %s", (die) => {
    const { reading } = modelOf(mount, die).point();
    const shape = ((Math.PI / 4) * 1e-4 ** 2) / 5e-2;
    const end = reading.temperatures.get("box by the die")!;
    // The die is a little warmer than the box, which takes a part in a thousand of it at most.
    const most = 3 * (0.02 / 3) * (0.9 ** 3 - end ** 3) * shape;
    const flow = reading.flows.get("support")!;
    expect(flow).toBeLessThanOrEqual(most);
    expect(flow).toBeGreaterThan(0.97 * most);
  });

  it.each(dieModels)("is in a budget on die and box, with model %s", (model) => {
    for (const place of ["die", "box"] as const) {
      const budget = thermalBudget(withField(on({ on: place }), "die.model", model));
      expect(budget.sources.map((source) => source.name)).toEqual(["given", "support"]);
    }
  });

  it("has a diameter or an area, not both", () => {
    expect(() => conductorOf(on({ area: 1e-9 }), "support")).toThrow(/^loads\[1\]/);
    const { diameter: _, ...bare } = wire;
    const neither = smallest({ ...padded, loads: [bare] });
    expect(() => conductorOf(neither, "support")).toThrow(/^loads\[0\]/);
  });

  it("is drawn in the middle of the die, or where it is placed", () => {
    const part = (changes: Partial<ConductionLoad>) =>
      drawn(drawnParts(readMount(on(changes))), "warm 1");
    expect(part({})).toMatchObject({
      name: "support",
      details: ["nbti", "50 mm long", "from 900 mK"],
      places: [{ left: 2e-3, bottom: 2e-3 }],
    });
    expect(part({ place: { x: 1e-3, y: 3e-3 } })!.places[0]).toMatchObject({
      left: 1e-3,
      top: 3e-3,
    });
    expect(part({ on: "box" })).toBeUndefined();
  });
});
