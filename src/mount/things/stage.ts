/**
 * The stage of a mount: held at a temperature, or finding its own from the heat it must take.
 * @module
 */
import {
  type Demagnetisation,
  type DemagnetisedSalt,
  demagnetisation,
  demagnetisationFields,
} from "../../loads/demagnetisation.js";
import { type Dilution, dilution, dilutionFields } from "../../loads/dilution.js";
import {
  type Cooling,
  type CoolingCurve,
  coolingCurve,
  coolingCurveFields,
} from "../../loads/stage.js";
import type { Catalogue } from "../../materials/types.js";
import { either, object, oneForm, type Plain, quantity } from "../../units/fields.js";
import { formatGiven } from "../../units/format.js";
import type { Temperature } from "../../units/quantity.js";
import { isSpread, type Uncertain } from "../../units/spread.js";
import type { Thing } from "../thing.js";

/** A stage by its measured cooling curve. */
export interface CurveStage {
  /** Points of temperature [K] and power [W], or a CSV with those columns. */
  readonly coolingCurve: CoolingCurve;
}

/** A stage on a dilution refrigerator. */
export interface DilutionStage {
  /** The circulation of a dilution refrigerator. */
  readonly dilution: Dilution;
}

/** A stage on a demagnetised salt, held at a temperature for as long as its entropy lasts. */
export interface SaltStage {
  /** The salt and its field. */
  readonly demagnetisation: Demagnetisation;
}

/** A stage whose temperature follows from the heat it must take. */
export type CoolingStage = CurveStage | DilutionStage | SaltStage;

/** The temperature of the stage, or how it is cooled. */
export type Stage = Uncertain<Temperature> | CoolingStage;

/** A stage held at a temperature, with the salt that holds it if there is one; or its cooling. */
export type StageModel =
  | {
      /** At which it is held [K]. */
      readonly temperature: number;
      /** The salt that holds it, when it is demagnetised. */
      readonly salt?: DemagnetisedSalt;
    }
  | {
      /** How its temperature follows from the heat; held when absent. */
      readonly cooling: Cooling;
    };

interface WithStage {
  readonly stage: Plain<Stage>;
}

/** How the stage of a mount stands in the network. @throws FieldError */
export function stageModel({ stage: own }: WithStage, catalogue: Catalogue): StageModel {
  if (typeof own === "number") return { temperature: own };
  if ("demagnetisation" in own) {
    const salt = demagnetisation(own.demagnetisation, catalogue, "stage.demagnetisation");
    return { temperature: salt.temperature, salt };
  }
  return {
    cooling:
      "dilution" in own
        ? dilution(own.dilution, catalogue, "stage.dilution")
        : coolingCurve(own.coolingCurve, "stage.coolingCurve"),
  };
}

/** The temperature it is held at, or that without any load [K]. */
export function coldest(model: StageModel): number {
  return "cooling" in model ? model.cooling.base : model.temperature;
}

export const stage: Thing<Stage, WithStage> = {
  field: either(
    (written) => typeof written === "object" && written !== null && !isSpread(written),
    oneForm<CoolingStage>()({
      coolingCurve: object<CurveStage>({ coolingCurve: coolingCurveFields }),
      dilution: object<DilutionStage>({ dilution: dilutionFields }),
      demagnetisation: object<SaltStage>({ demagnetisation: demagnetisationFields }),
    }),
    quantity("temperature"),
  ),
  drawn: ({ stage: own }) => [
    {
      kind: "stage",
      look: "stage",
      name: "stage",
      details: [
        typeof own === "number"
          ? `held at ${formatGiven(own, "K")}`
          : "as warm as its cooling leaves it",
      ],
      places: [],
    },
  ],
};
