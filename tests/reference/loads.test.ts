import { expect, test } from "vitest";
import { conduction } from "../../src/loads/conduction.js";
import { infrared } from "../../src/loads/infrared.js";
import { planckPower, rayleighJeansPower } from "../../src/loads/optical.js";
import { background, horizontalFlux, muons } from "../../src/loads/particles.js";
import { dissipatedFraction, readout } from "../../src/loads/readout.js";
import { readCatalogue } from "../../src/materials/catalogue.js";
import { readDataFolder } from "../../src/materials/files.js";
import { checkReference, type Inputs } from "./rows.js";

const catalogue = readCatalogue(readDataFolder());

const die = (inputs: Inputs) => ({
  material: inputs.text("material"),
  area: inputs.quantity("area", "area"),
  thickness: inputs.quantity("thickness", "length"),
});

const quality = (inputs: Inputs) => ({
  internalQuality: inputs.number("internal quality"),
  couplingQuality: inputs.number("coupling quality"),
});

checkReference("loads.csv", {
  "dissipated fraction": (inputs) => {
    const { internalQuality, couplingQuality } = quality(inputs);
    return dissipatedFraction(internalQuality, couplingQuality);
  },
  "power of a tone": (inputs) =>
    readout({
      tones: 1,
      powerPerTone: inputs.quantity("level", "power"),
      dissipatedFraction: 1,
    }).power,
  "readout heat": (inputs) =>
    readout({
      tones: inputs.number("tones"),
      powerPerTone: inputs.quantity("power per tone", "power"),
      ...quality(inputs),
    }).power,
  "single-mode blackbody": (inputs) => {
    const T = inputs.quantity("temperature", "temperature");
    return planckPower(T, 0, 2e13 * T);
  },
  "Rayleigh-Jeans power": (inputs) =>
    rayleighJeansPower(
      inputs.quantity("temperature", "temperature"),
      inputs.quantity("bandwidth", "frequency"),
    ),
  "blackbody exitance": (inputs) =>
    infrared({ hot: inputs.quantity("temperature", "temperature"), area: 1, emissivity: 1 }).power,
  "conductivity integral": (inputs) =>
    conduction(
      {
        material: inputs.text("material"),
        area: 1,
        length: 1,
        warm: inputs.quantity("warm", "temperature"),
        cold: inputs.quantity("cold", "temperature"),
      },
      catalogue,
    ).power,
  "wiring heat": (inputs) =>
    conduction(
      {
        material: inputs.text("material"),
        diameter: inputs.quantity("diameter", "length"),
        length: inputs.quantity("length", "length"),
        count: inputs.number("count"),
        residualResistivityRatio: inputs.number("ratio"),
        warm: inputs.quantity("warm", "temperature"),
        cold: inputs.quantity("cold", "temperature"),
      },
      catalogue,
    ).power,
  "muon rate": (inputs) => muons(die(inputs), catalogue).details["rate [1/s]"]!,
  "horizontal flux": (inputs) => horizontalFlux(inputs.number("vertical intensity")),
  // The mean path of the sky's muons is 4/3 of the thickness that a straight one crosses.
  "energy straight through": (inputs) =>
    muons(
      {
        material: inputs.text("material"),
        area: 1,
        thickness: inputs.quantity("thickness", "length"),
      },
      catalogue,
    ).details["mean energy of a muon [J]"]! * 0.75,
  "background heat": (inputs) =>
    background({ rate: inputs.number("rate"), energy: inputs.quantity("energy", "energy") }).power,
  "background heat of a die": (inputs) => background(die(inputs), catalogue).power,
});

test("muons are a part of the heat that an unshielded silicon chip was measured to receive", () => {
  // Fowler et al., PRX Quantum 5, 040323 (2024): 4.9 keV/s in 25 mm² × 0.5 mm at 1650 m. At sea level
  // muons come at about 1 a minute and square centimetre: 0.004 of the 0.023 events a second.
  const chip = { material: "silicon", area: "25 mm^2", thickness: "0.5 mm" } as const;
  const measured = 4.9e3 * 1.602176634e-19;
  const share = muons(chip, catalogue).power / measured;
  expect(share).toBeGreaterThan(0.1);
  expect(share).toBeLessThan(0.3);
});
