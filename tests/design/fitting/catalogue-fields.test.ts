/** Fits of what a mount leaves to the catalogue: as if it had been written into the mount. */
import { describe, expect, it } from "vitest";
import { calibrate } from "../../../src/design/fitting/calibrate.js";
import { withCatalogueFields } from "../../../src/design/fitting/catalogue-fields.js";
import { withMeasured } from "../../../src/design/fitting/saved-fit.js";
import { readThermometry } from "../../../src/design/fitting/thermometry.js";
import { type Mount, readMount, standardCatalogue, thermalBudget } from "../../../src/index.js";
import { exampleMount } from "../../mount/example.js";
import { ombrelCooldown, ombrelMount } from "../ombrel-cooldown.js";

const example = exampleMount();
const bare: Mount = { ...example, die: { ...example.die, model: "two nodes" } };
const data = readThermometry(ombrelCooldown(), "cool.csv");
const inputs = ["pads.coupling.coefficient", "pads.boundary.resistance"] as const;

describe("a field that the mount leaves to the catalogue", () => {
  it("is written where it was left out, and changes nothing by that", () => {
    const { mount, warnings } = withCatalogueFields(
      bare,
      [...inputs, "die.meanFreePath"],
      standardCatalogue(),
    );
    const chip = (of: Mount) => thermalBudget(of).chip.temperature;
    expect(chip(mount) / chip(bare)).toBeCloseTo(1, 9);
    const { pads, die } = readMount(mount);
    // Giazotto et al. (2006), table I, not checked against the publication: gold, 2.4 nW/(µm³ K⁵).
    expect(pads!.coupling).toEqual({ coefficient: expect.closeTo(2.4e9, -3), exponent: 5 });
    expect(die.meanFreePath).toBeGreaterThan(die.thickness);
    expect(warnings).toHaveLength(3);
    expect(warnings[0]).toMatch(
      /^pads\.coupling is not in the mount: the catalogue's, 2\.4e9 W\/\(m\^3 K\^5\), was written there as the start\.$/,
    );
  });

  it("leaves what the mount has, and what the catalogue does not know", () => {
    const given = ombrelMount(2e9, 1e-3);
    for (const [mount, field] of [
      [given, inputs[0]],
      [given, inputs[1]],
      [bare, "bonds.length"],
      [bare, "ring.coupling.coefficient"],
      [{ ...bare, die: { ...bare.die, model: "flights" } } as Mount, "die.meanFreePath"],
    ] as const) {
      const found = withCatalogueFields(mount, [field], standardCatalogue());
      expect(found.mount, field).toBe(mount);
      expect(found.warnings).toEqual([]);
    }
  });

  it("is fitted as if it had been written, told, and handed on to a mount without it", () => {
    const fit = calibrate(bare, data, { inputs, date: "2026-09-30" });
    const { mount } = withCatalogueFields(bare, inputs, standardCatalogue());
    const written = calibrate(mount, data, { inputs });
    for (const name of inputs) {
      expect(fit.of(name).value / written.of(name).value).toBeCloseTo(1, 12);
    }
    expect(fit.warnings.filter((text) => text.includes("is not in the mount"))).toHaveLength(2);
    const next = withMeasured(bare, fit.toInputsCsv().csv);
    const [a, b] = [next, fit.mount].map((each) => readMount(each).pads!);
    expect(a!.coupling).toMatchObject({ exponent: 5 });
    expect(thermalBudget(next).chip.temperature).toBeCloseTo(
      thermalBudget(fit.mount).chip.temperature,
      9,
    );
    expect(b!.thickness).toBe(a!.thickness);
  });
});
