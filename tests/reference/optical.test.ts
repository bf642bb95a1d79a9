import { nightSky, starPhotons } from "../../src/loads/night-sky.js";
import { photometricBand, photonEnergy, skyBrightness } from "../../src/loads/photometry.js";
import {
  bandFraction,
  photonExitance,
  planckPower,
  rayleighJeansCorrection,
} from "../../src/loads/planck.js";
import { radiation } from "../../src/loads/radiation.js";
import { readCatalogue } from "../../src/materials/catalogue.js";
import { readDataFolder } from "../../src/materials/files.js";
import { boltzmann, planck } from "../../src/units/constants.js";
import { checkReference, type Inputs } from "./rows.js";

const catalogue = readCatalogue(readDataFolder());

const band = (inputs: Inputs, system = inputs.text("system")) =>
  photometricBand({ name: inputs.text("band"), system }, catalogue);

const middle = (inputs: Inputs) => {
  const { from, to } = band(inputs);
  return (from + to) / 2;
};

/** Boxes are narrow here, so that photons a logarithm of wavelength are those a share of it. */
const box = (fluxDensity: number) =>
  photometricBand({ wavelength: 1, width: 1e-6, zeroPoint: fluxDensity }, catalogue);

checkReference("optical.csv", {
  "band fraction": (inputs) => {
    const [number, unit] = inputs.text("wavelength times temperature").split(" ");
    return bandFraction(Number(number) * (unit === "um" ? 1e-6 : Number.NaN));
  },
  "blackbody photon exitance": (inputs) =>
    photonExitance(inputs.quantity("temperature", "temperature")),
  "Planck over Rayleigh-Jeans": (inputs) =>
    rayleighJeansCorrection((inputs.number("x") * boltzmann) / planck, 1),
  "narrow band of one mode": (inputs) => {
    const [centre, width] = ["middle", "bandwidth"].map((name) =>
      inputs.quantity(name, "frequency"),
    ) as [number, number];
    return planckPower(
      inputs.quantity("temperature", "temperature"),
      centre - width / 2,
      centre + width / 2,
    );
  },
  "zero-point photon flux": (inputs) => band(inputs).photons(middle(inputs)),
  "zero-point flux density per wavelength": (inputs) =>
    band(inputs).photons(middle(inputs)) * photonEnergy(middle(inputs)),
  "photons per unit of ln wavelength": (inputs) =>
    starPhotons(box(inputs.number("flux density")), 0) / 1e-6,
  "star photons": (inputs) =>
    starPhotons(
      photometricBand(
        {
          wavelength: inputs.quantity("wavelength", "length"),
          width: inputs.quantity("width", "length"),
          zeroPoint: inputs.number("flux density"),
        },
        catalogue,
      ),
      inputs.number("magnitude"),
    ),
  "sky photons": (inputs) =>
    nightSky(
      {
        pixels: 1,
        band: { name: inputs.text("band"), system: "bessell" },
        sky: inputs.text("night") as "dark",
        telescopeArea: "1 m^2",
        pixelScale: "1 arcsec",
      },
      catalogue,
    ).photonRate,
  "sky magnitude": (inputs) =>
    skyBrightness(inputs.text("night") as "dark", band(inputs, "bessell"), catalogue).value,
  "grey body through an aperture": (inputs) =>
    radiation({
      source: {
        temperature: inputs.quantity("temperature", "temperature"),
        emissivity: inputs.number("emissivity"),
      },
      through: { area: "1 m^2" },
      band: { from: "1 um", to: "10 um" },
    }).power,
  "single mode of all frequencies": (inputs) =>
    radiation({
      source: { temperature: inputs.quantity("temperature", "temperature") },
      through: { modes: 1 },
      band: { from: "1 um", to: "10 um" },
    }).power,
});
