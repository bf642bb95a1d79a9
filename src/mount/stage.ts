/**
 * The stage of a mount: held at a temperature, or finding its own from the heat it must take.
 * @module
 */
import { type DemagnetisedSalt, demagnetisation } from "../loads/demagnetisation.js";
import { dilution } from "../loads/dilution.js";
import { type Cooling, coolingCurve } from "../loads/stage.js";
import type { Catalogue } from "../materials/types.js";
import type { PlainMount } from "./read.js";

/** Name of the link by which a stage that finds its own temperature is cooled. */
export const coolingLink = "cooling of the stage";
/** Name of the fixed node at its other end: the temperature at which it takes no heat. */
export const coolingBase = "stage without load";

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

/** How the stage of a mount stands in the network. @throws FieldError */
export function stageModel({ stage }: PlainMount, catalogue: Catalogue): StageModel {
  if (typeof stage === "number") return { temperature: stage };
  if ("demagnetisation" in stage) {
    const salt = demagnetisation(stage.demagnetisation, catalogue, "stage.demagnetisation");
    return { temperature: salt.temperature, salt };
  }
  return {
    cooling:
      "dilution" in stage
        ? dilution(stage.dilution, catalogue, "stage.dilution")
        : coolingCurve(stage.coolingCurve, "stage.coolingCurve"),
  };
}
