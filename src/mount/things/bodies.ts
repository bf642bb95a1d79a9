/**
 * Bodies that hang on the die, the box or the stage and only store heat: a lid, a circuit board, a magnet.
 * @module
 */

import { temperatureExponent } from "../../joints/given.js";
import {
  givenHeatStore,
  type HeatCapacityValue,
  heatCapacities,
  heatStore,
  type Volume,
  volumes,
} from "../../joints/heat-store.js";
import { FieldError } from "../../units/errors.js";
import * as read from "../../units/fields.js";
import { formatGiven } from "../../units/format.js";
import type { Length, Temperature } from "../../units/quantity.js";
import type { Uncertain } from "../../units/spread.js";
import {
  boxByBolts,
  boxByDie,
  type Contacts,
  rectanglesOf,
  stageEnd,
  type Thing,
} from "../thing.js";
import { jointField, jointWords, type StageJoint, screwWarnings, throughJoint } from "./joint.js";
import { type Place, place, squares, usualSize } from "./spots.js";

/** Where a body hangs, and by what. */
export interface HungBody {
  /** As results show it: `"lid"`. */
  readonly name: string;
  /** What it hangs on; of the box, where the die is. */
  readonly on: "die" | "box" | "stage";
  /** By what it hangs there. */
  readonly joint: StageJoint;
  /** Where on the die; the middle when absent. */
  readonly place?: Place;
  /** Side of the square of the die that it covers [m]; 1 mm when absent. */
  readonly size?: Uncertain<Length>;
}

/** A body of a material of the catalogue. */
export interface MaterialBody extends HungBody {
  /** Material, by its name in the catalogue. */
  readonly material: string;
  /** How much of it [m³]. */
  readonly volume: Uncertain<Volume>;
}

/** A body of a measured heat capacity. */
export interface MeasuredBody extends HungBody {
  /** Heat capacity at the temperature `at` [J/K]. */
  readonly heatCapacity: Uncertain<HeatCapacityValue>;
  /** Temperature at which it was measured [K]. */
  readonly at: Uncertain<Temperature>;
  /** C ∝ Tⁿ: 1 for electrons in a metal (when absent), 3 for phonons. */
  readonly exponent?: Uncertain<number>;
}

/** A body that only stores heat. */
export type StoringBody = MaterialBody | MeasuredBody;

interface WithBodies {
  readonly die: { readonly width: number; readonly length: number };
  readonly bodies?: readonly read.Plain<StoringBody>[];
}

const hung = {
  name: read.text,
  on: read.oneOf("die", "box", "stage"),
  joint: jointField,
  place: read.optional(place),
  size: read.optional(read.quantity("length")),
};

function contactsOf(i: number): Contacts<WithBodies> {
  return {
    name: `bodies[${i}]`,
    layer: "clamps",
    field: () => `bodies[${i}].place`,
    lay({ die, bodies: own }) {
      const { place: at = { x: die.width / 2, y: die.length / 2 }, size = usualSize } = own![i]!;
      return { patches: squares([at], size) };
    },
  };
}

const reserved: readonly string[] = [
  ...[boxByDie, boxByBolts, stageEnd].map(({ shared }) => shared),
  "die",
  "die edge",
  "die centre",
  "die, hottest point",
];

export const bodies: Thing<readonly StoringBody[], WithBodies> = {
  field: read.optional(
    read.list(
      read.oneForm<StoringBody>()({
        volume: read.object<MaterialBody>({
          ...hung,
          material: read.text,
          volume: read.rareQuantity(volumes),
        }),
        heatCapacity: read.object<MeasuredBody>({
          ...hung,
          heatCapacity: read.rareQuantity(heatCapacities),
          at: read.quantity("temperature"),
          exponent: read.optional(temperatureExponent),
        }),
      }),
      "a list of bodies",
    ),
  ),
  rules({ bodies: own = [] }) {
    own.forEach(({ name, on, place: at, size }, i) => {
      const field = `bodies[${i}]`;
      const names = [...reserved, ...own.slice(0, i).map((other) => other.name)];
      // Pieces of the path to the stage end in places of that name.
      if (names.includes(name) || name.startsWith("end of ")) {
        throw new FieldError(`${field}.name`, "a name that no other place has", name);
      }
      if (on === "die") return;
      for (const [key, given] of Object.entries({ place: at, size })) {
        if (given === undefined) continue;
        throw new FieldError(`${field}.${key}`, `none, since it hangs on the ${on}`, given);
      }
    });
  },
  parts({ bodies: own = [] }) {
    const contacts = own.map(({ on }, i) => (on === "die" ? contactsOf(i) : undefined));
    return {
      contacts: contacts.flatMap((each) => each ?? []),
      paths: own.map(({ name, on }, i) => ({
        name: `joint of ${name}`,
        from: { alone: name },
        to: contacts[i] ? { on: contacts[i] } : on === "box" ? boxByDie : stageEnd,
        ...throughJoint(({ bodies: all }: WithBodies) => all![i]!.joint, `bodies[${i}].joint`),
      })),
      stores: own.map((body, i) => ({
        name: body.name,
        at: { alone: body.name },
        field: `bodies[${i}].${"material" in body ? "material" : "heatCapacity"}`,
        store(mount, catalogue) {
          const stored = mount.bodies![i]!;
          if ("material" in stored) {
            const { material, volume } = stored;
            return heatStore({ material, volume }, catalogue, `bodies[${i}]`);
          }
          const { heatCapacity, at, exponent = 1 } = stored;
          return givenHeatStore({ heatCapacity, at, exponent }, `bodies[${i}]`);
        },
      })),
    };
  },
  warnings: ({ bodies: own = [] }, catalogue) =>
    own.flatMap(({ joint }, i) => screwWarnings(joint, `bodies[${i}].joint`, catalogue)),
  drawn: (mount) =>
    (mount.bodies ?? []).map((body, i) => ({
      kind: `bodies ${i}`,
      look: "clamp" as const,
      name: body.name,
      details: [
        "material" in body
          ? `${body.material}, ${formatGiven(1e9 * body.volume, "")} mm³`
          : `${formatGiven(body.heatCapacity, "J/K")} at ${formatGiven(body.at, "K")}`,
        `on the ${body.on}`,
        ...jointWords(body.joint),
      ],
      places: body.on === "die" ? rectanglesOf(contactsOf(i), mount) : [],
    })),
};
