import { expect, test } from "vitest";
import { faceSum, skySum } from "../../src/loads/angle-law.js";
import { background } from "../../src/loads/background.js";
import { coax } from "../../src/loads/coax.js";
import { mostProbableLoss } from "../../src/loads/energy-loss.js";
import { infrared } from "../../src/loads/infrared.js";
import { horizontalFlux, muons } from "../../src/loads/muons.js";
import { planckPower, rayleighJeansPower } from "../../src/loads/planck.js";
import { dissipatedFraction, readout } from "../../src/loads/readout.js";
import { stoppingPower } from "../../src/loads/stopping-power.js";
import { conduction, wiring } from "../../src/loads/wiring.js";
import { readCatalogue } from "../../src/materials/catalogue.js";
import { readDataFolder } from "../../src/materials/files.js";
import { elementaryCharge } from "../../src/units/constants.js";
import { checkReference, type Inputs } from "./rows.js";

const catalogue = readCatalogue(readDataFolder());

const die = (inputs: Inputs) => ({
  material: inputs.text("material"),
  area: inputs.quantity("area", "area"),
  thickness: inputs.quantity("thickness", "length"),
  ...(inputs.optional("overburden") && { overburden: inputs.quantity("overburden", "length") }),
  ...(inputs.optional("counted") && { counted: "above 1 GeV/c" as const }),
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
        ...(inputs.optional("sample") !== undefined && { sample: inputs.text("sample") }),
        ...(inputs.optional("ratio") !== undefined && {
          residualResistivityRatio: inputs.number("ratio"),
        }),
      },
      catalogue,
    ).power,
  "coaxial line": (inputs) =>
    wiring(
      {
        members: coax(
          {
            size: inputs.text("size"),
            conductor: { material: inputs.text("conductor") },
            dielectric: { material: "ptfe" },
          },
          catalogue,
        ),
        stages: [
          { name: "warm", temperature: inputs.quantity("warm", "temperature") },
          {
            name: "cold",
            temperature: inputs.quantity("cold", "temperature"),
            length: inputs.quantity("length", "length"),
          },
        ],
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
  "muons left": (inputs) => {
    const one = { material: "silicon", area: 1, thickness: 1e-3 } as const;
    const overburden = inputs.quantity("overburden", "length");
    return muons({ ...one, overburden }, catalogue).power / muons(one, catalogue).power;
  },
  "horizontal flux": (inputs) => horizontalFlux(inputs.number("vertical intensity")),
  "flux over vertical intensity": (inputs) => {
    const tilt = inputs.quantity("tilt", "angle");
    // Of a vertical face as many come from either side; a horizontal one has the sky on one side.
    return faceSum(tilt, 2) / (tilt === 0 ? 1 : 2);
  },
  "omnidirectional flux over vertical intensity": (inputs) => skySum(inputs.number("exponent")),
  "mean path over thickness": (inputs) => {
    const [width, length, thickness] = ["width", "length", "thickness"].map((name) =>
      inputs.quantity(name, "length"),
    ) as [number, number, number];
    const load = muons({ material: inputs.text("material"), width, length, thickness }, catalogue);
    return load.details["mean path [m]"]! / thickness;
  },
  "stopping power": (inputs) =>
    stoppingPower(inputs.text("material"), inputs.quantity("momentum", "energy"), catalogue).value,
  "least stopping power": (inputs) =>
    Math.min(
      ...Array.from({ length: 400 }, (_, i) => {
        const momentum = 200e6 * 1.01 ** (i / 4) * elementaryCharge;
        return stoppingPower(inputs.text("material"), momentum, catalogue).value;
      }),
    ),
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
  "most probable loss": (inputs) => {
    const betaGamma = inputs.optional("beta gamma");
    const momentum = Number(betaGamma) * 105.6583755e6 * elementaryCharge;
    const layer = {
      material: inputs.text("material"),
      thickness: inputs.quantity("thickness", "length"),
      ...(betaGamma !== undefined && { momentum }),
    };
    return mostProbableLoss(layer, catalogue).value;
  },
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
