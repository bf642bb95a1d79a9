import { demagnetisation, freeSpinEntropy } from "../../src/loads/demagnetisation.js";
import { dilution } from "../../src/loads/dilution.js";
import { readCatalogue } from "../../src/materials/catalogue.js";
import { readDataFolder } from "../../src/materials/files.js";
import { gasConstant } from "../../src/units/constants.js";
import { checkReference, type Inputs } from "./rows.js";

const catalogue = readCatalogue(readDataFolder());

const temperature = (inputs: Inputs) => inputs.quantity("temperature", "temperature");
const spinEntropy = (inputs: Inputs) =>
  freeSpinEntropy(inputs.number("spin"), inputs.number("field") / inputs.number("temperature"));

checkReference("stage.csv", {
  "dilution power": (inputs) => {
    const exchanger = inputs.optional("exchanger") && {
      exchangerTemperature: inputs.quantity("exchanger", "temperature"),
    };
    const circulation = inputs.number("circulation");
    return dilution({ circulation, ...exchanger }, catalogue).power(temperature(inputs));
  },
  "ratio without load": (inputs) => {
    const exchangerTemperature = inputs.quantity("exchanger", "temperature");
    return (
      exchangerTemperature / dilution({ circulation: 1e-3, exchangerTemperature }, catalogue).base
    );
  },
  "free-spin entropy": (inputs) =>
    Number(inputs.optional("ions") ?? 1) * gasConstant * spinEntropy(inputs),
  "free-spin entropy over R": spinEntropy,
  "entropy removed": (inputs) => {
    const { entropy } = demagnetisation(
      {
        salt: inputs.text("salt"),
        amount: 1,
        field: inputs.number("field"),
        start: inputs.number("temperature"),
        temperature: "0.9 K",
      },
      catalogue,
    );
    return entropy.end - entropy.start;
  },
  "heat taken": (inputs) =>
    demagnetisation(
      {
        salt: inputs.text("salt"),
        amount: inputs.number("amount"),
        field: inputs.number("field"),
        start: inputs.quantity("start", "temperature"),
        temperature: temperature(inputs),
      },
      catalogue,
    ).heat,
});
