import { type Conductor, heatFlow } from "../../src/conductor.js";
import { boundary, diffuseMismatch } from "../../src/joints/boundary.js";
import { electronPhonon } from "../../src/joints/electron-phonon.js";
import { glue } from "../../src/joints/glue.js";
import { pressedJoint } from "../../src/joints/pressed-joint.js";
import { padSquares, sheetFactor } from "../../src/joints/spreading.js";
import { crossSection } from "../../src/joints/strip.js";
import { wireBond } from "../../src/joints/wire-bond.js";
import { readCatalogue } from "../../src/materials/catalogue.js";
import { readDataFolder } from "../../src/materials/files.js";
import { checkReference, type Inputs } from "./rows.js";

const catalogue = readCatalogue(readDataFolder());

const temperature = (inputs: Inputs) => inputs.quantity("temperature", "temperature");
const between = (conductor: Conductor, inputs: Inputs) =>
  heatFlow(
    conductor,
    inputs.quantity("hot", "temperature"),
    inputs.quantity("cold", "temperature"),
  );

const mismatch = (inputs: Inputs) => {
  const [a, b] = ["1", "2"].map((side) => ({
    longitudinal: inputs.quantity(`longitudinal ${side}`, "speed"),
    transverse: inputs.quantity(`transverse ${side}`, "speed"),
  }));
  return diffuseMismatch(a!, b!);
};

const goldBond = (inputs: Inputs) =>
  wireBond(
    {
      metal: "gold",
      diameter: inputs.quantity("diameter", "length"),
      length: inputs.quantity("length", "length"),
      residualResistivityRatio: {
        // Theirs is that of the pure metal, which has no residual resistivity in it.
        value: inputs.number("ratio") + 1,
        warm: inputs.quantity("warm", "temperature"),
      },
    },
    catalogue,
  );

const pressed = (inputs: Inputs, faces: string) =>
  pressedJoint({ faces, force: inputs.quantity("force", "force") }, catalogue).conductance(
    temperature(inputs),
  );

checkReference("joints.csv", {
  "diffuse mismatch resistance": (inputs) => 1 / (4 * mismatch(inputs)),
  "diffuse mismatch flow": mismatch,
  "boundary resistance of the catalogue": (inputs) => {
    const pair: [string, string] = [inputs.text("metal"), inputs.text("dielectric")];
    return 1 / boundary({ between: pair, area: 1 }, catalogue).conductance(1);
  },
  "joint of measured resistance": (inputs) =>
    pressedJoint({ resistance: inputs.quantity("resistance", "resistance") }).conductance(
      temperature(inputs),
    ),
  "heat of a metallic link": (inputs) =>
    between(pressedJoint({ resistance: inputs.quantity("resistance", "resistance") }), inputs),
  "pressed joint": (inputs) => pressed(inputs, inputs.text("faces")),
  "grease over bare": (inputs) =>
    pressed(inputs, "greased copper on copper") / pressed(inputs, "copper on copper"),
  "electron-phonon heat": (inputs) =>
    between(
      electronPhonon({ metal: inputs.text("metal"), volume: inputs.number("volume") }, catalogue),
      inputs,
    ),
  "warm resistance of a gold bond": (inputs) =>
    (catalogue.material("gold").warmResistivity(inputs.quantity("warm", "temperature")).value *
      inputs.quantity("length", "length")) /
    crossSection("wire", { diameter: inputs.quantity("diameter", "length") }).area,
  "gold bond": (inputs) => goldBond(inputs).conductance(temperature(inputs)),
  "heat of a gold bond": (inputs) => between(goldBond(inputs), inputs),
  "glue spots": (inputs) =>
    glue(
      {
        glue: inputs.text("glue"),
        area: (Math.PI * inputs.quantity("diameter", "length") ** 2) / 4,
        count: inputs.number("count"),
      },
      catalogue,
    ).conductance(temperature(inputs)),
  // Torsion of a bar a × b: J = k₁ a³ b = 4 ∫ u, and the mean of u is f ab.
  "torsion constant": (inputs) =>
    4 * sheetFactor(inputs.number("aspect"), "mean") * inputs.number("aspect"),
  // Squares = ln(4A/(γ C a²))/4π for a small foot, γ = e^0.5772…
  "shape factor of a drained rectangle": (inputs) => {
    const [aspect, a] = [inputs.number("aspect"), 1e-4];
    const squares = padSquares(1, aspect, a);
    return (4 * aspect * Math.exp(-4 * Math.PI * squares - 0.5772156649)) / a ** 2;
  },
  "hottest point of a square sheet": (inputs) => sheetFactor(inputs.number("aspect"), "hottest"),
});
