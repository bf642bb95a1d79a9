/** Fields that few mounts have take strings with the units that their errors name, as all others do. */
import { expect, it } from "vitest";
import { boundary, electronPhonon, glue, heatFlow } from "../../src/joints/index.js";
import { background, muons, radiation } from "../../src/loads/index.js";

const pad = { metal: "gold", area: "1 mm^2", thickness: "1 um" } as const;
const window = { source: { temperature: "4 K" }, band: { from: "1 mm", to: "2 mm" } } as const;
const die = { material: "silicon", area: "1 cm^2", thickness: "0.5 mm" } as const;

it.each([
  [
    "a boundary resistance",
    () => heatFlow(boundary({ area: "1 mm^2", resistance: "20 cm^2 K^4/W" }), 0.2, 0.1),
    () => heatFlow(boundary({ area: 1e-6, resistance: 20e-4 }), 0.2, 0.1),
  ],
  [
    "a boundary resistance with raised digits",
    () => heatFlow(boundary({ area: "1 mm²", resistance: "0.002 m² K⁴/W" as never }), 0.2, 0.1),
    () => heatFlow(boundary({ area: 1e-6, resistance: 20e-4 }), 0.2, 0.1),
  ],
  [
    "a coupling",
    () => {
      const coupling = { coefficient: "2.4 nW/(um^3 K^5)", exponent: 5 } as const;
      return heatFlow(electronPhonon({ ...pad, coupling }), 0.2, 0.1);
    },
    () => {
      const coupling = { coefficient: 2.4e9, exponent: 5 };
      return heatFlow(electronPhonon({ ...pad, coupling }), 0.2, 0.1);
    },
  ],
  [
    "a boundary of glue",
    () =>
      heatFlow(
        glue({
          material: "stycast-1266",
          area: "1 mm^2",
          thickness: 1e-5,
          boundaryResistance: "9 cm^2 K^4/W",
        }),
        0.2,
        0.1,
      ),
    () =>
      heatFlow(
        glue({ material: "stycast-1266", area: 1e-6, thickness: 1e-5, boundaryResistance: 9e-4 }),
        0.2,
        0.1,
      ),
  ],
  [
    "an étendue",
    () => radiation({ ...window, through: { etendue: "3 mm^2 sr" } }).power,
    () => radiation({ ...window, through: { etendue: 3e-6 } }).power,
  ],
  [
    "a flux of muons",
    () => muons({ ...die, flux: "1 1/(cm^2 min)" }).power,
    () => muons({ ...die, flux: 1e4 / 60 }).power,
  ],
  [
    "a rate",
    () => background({ rate: "3 1/min", energy: "100 keV" }).power,
    () => background({ rate: 0.05, energy: "100 keV" }).power,
  ],
])("%s", (_, written, inSI) => {
  expect(written() / inSI()).toBeCloseTo(1, 12);
});

it("refuses a coupling in the unit of another exponent", () => {
  const coupling = { coefficient: "2.4 nW/(um^3 K^6)", exponent: 5 } as const;
  expect(() => electronPhonon({ ...pad, coupling }, undefined, "pad")).toThrow(
    'pad.coupling.coefficient: expected a number in W/(m^3 K^5), got "2.4 nW/(um^3 K^6)" (units: W/(m^3 K^5), nW/(um^3 K^5))',
  );
});

it("takes for a layer of metal the purity that it asks for", () => {
  const layer = { material: "silver", area: "1 mm^2", thickness: "10 um" } as const;
  expect(() => glue(layer)).toThrow(/^glue\.residualResistivityRatio: expected /);
  const pure = heatFlow(glue({ ...layer, residualResistivityRatio: 100 }), 0.2, 0.1);
  const alloyed = heatFlow(glue({ ...layer, residualResistivityRatio: 10 }), 0.2, 0.1);
  // The residual resistivity is that of the pure metal over the ratio less one.
  expect(pure / alloyed).toBeCloseTo(99 / 9, 6);
});
