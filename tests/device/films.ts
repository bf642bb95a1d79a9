/** Catalogue and films for the tests of this folder. */
import { superconductor } from "../../src/device/superconductor.js";
import { readCatalogue } from "../../src/materials/catalogue.js";
import { readDataFolder } from "../../src/materials/files.js";

export const catalogue = readCatalogue(readDataFolder());
/** Aluminium as thin films are: critical temperature of 1.2 K, weak coupling. */
export const aluminium = superconductor(
  {
    criticalTemperature: "1.2 K",
    gapRatio: 1.76387699,
    densityOfStates: "1.72e10 1/(eV um^3)",
  },
  catalogue,
);
