/**
 * Reads a mount: checks every field and turns strings with units into numbers in SI.
 * @module
 */

import type { QuasiparticleDensity } from "../device/limit.js";
import type { ResonatorOptions } from "../device/quality.js";
import type { Demagnetisation as SaltOptions } from "../loads/demagnetisation.js";
import type { Dilution } from "../loads/dilution.js";
import type { CoolingCurve } from "../loads/stage.js";
import { FieldError } from "../units/errors.js";
import { formatGiven } from "../units/format.js";
import { isSpread } from "../units/spread.js";
import type { Mount, Unnamed } from "./description.js";
import {
  aboveZero,
  count,
  either,
  exactNumber,
  has,
  list,
  number,
  object,
  oneForm,
  oneOf,
  optional,
  quantity,
  quantityFromZero,
  type Reader,
  type ReadFields,
  residualResistivityRatio,
  text,
} from "./fields.js";
import { shapes } from "./known-fields.js";
import { withMedians } from "./medians.js";
import { asGiven, load, resonator } from "./read-loads.js";

const length = quantity("length");
const area = quantity("area");
const temperature = quantity("temperature");

const die = object({
  material: text,
  width: length,
  length,
  thickness: length,
  meanFreePath: optional(length),
  specularity: optional(number("a number from 0 to below 1", (p) => p >= 0 && p < 1)),
  model: optional(oneOf("sheet", "centre and edge", "one node")),
  cells: optional(
    exactNumber(
      "a power of two from 8 to 512",
      (n) => n >= 8 && n <= 512 && Number.isInteger(Math.log2(n)),
    ),
  ),
});

const fromZero = quantityFromZero("length");
const places = optional(list(object({ x: fromZero, y: fromZero }), "a list of places"));

const couplingExponent = number("a number from 3 to 8", (n) => n >= 3 && n <= 8);

/** The unit of the coefficient follows from the exponent, of an uncertain one from its median. */
const givenCoupling = (value: unknown, field: string) => {
  const fields = { coefficient: aboveZero, exponent: couplingExponent };
  const { exponent } = object(fields)(value, field);
  const unit = `W/(m^3 K^${Number(exponent.toPrecision(3))})`;
  const coefficient = number("a number greater than 0", (s) => s > 0, unit);
  return object({ ...fields, coefficient })(value, field);
};

const filmFields = {
  material: text,
  thickness: length,
  residualResistivityRatio: optional(residualResistivityRatio),
  boundary: optional(
    either(
      has("measured"),
      object({ measured: text }),
      either(
        has("resistance"),
        object({ resistance: number("a number greater than 0", (r) => r > 0, "m^2 K^4/W") }),
        oneOf("diffuse mismatch"),
      ),
    ),
  ),
  coupling: optional(either(has("sample"), object({ sample: text }), givenCoupling)),
};

const pads = object({ ...filmFields, width: length, length, inset: optional(fromZero) });
const ring = object({ ...filmFields, width: length, inset: optional(fromZero) });

const anySides = list(oneOf("lower", "right", "upper", "left"), "a list of edges");
const sides: typeof anySides = (value, field) => {
  const named = anySides(value, field);
  if (named.length > 0 && new Set(named).size === named.length) return named;
  throw new FieldError(field, "one edge or more, each once", value);
};

const bonds = object({
  material: text,
  count,
  diameter: optional(length),
  width: optional(length),
  thickness: optional(length),
  length,
  residualResistivityRatio: optional(residualResistivityRatio),
  footResistance: optional(quantityFromZero("resistance")),
  footRadius: optional(length),
  perPad: optional(count),
  pitch: optional(length),
  arrangement: optional(oneOf("spread", "row")),
  edges: optional(either((value) => Array.isArray(value), sides, oneOf(1, 2, 3, 4))),
});

const platingFields = {
  material: text,
  thickness: length,
  residualResistivityRatio: optional(residualResistivityRatio),
};

const force = quantity("force");

const clamp = object({
  name: optional(text),
  faces: text,
  force,
  count: optional(count),
  places,
  size: optional(length),
});

const glue = oneForm({
  glue: object({
    glue: text,
    area,
    thickness: optional(length),
    count: optional(count),
    sample: optional(text),
    places,
  }),
  material: object({
    material: text,
    area,
    thickness: length,
    boundaryResistance: optional(aboveZero),
    count: optional(count),
    sample: optional(text),
    places,
  }),
});

const box = object({
  material: text,
  residualResistivityRatio: optional(residualResistivityRatio),
  crossSection: area,
  pathLength: length,
  plating: optional(object({ ...platingFields, width: length })),
});

const joint = oneForm({
  resistance: object({ resistance: quantity("resistance"), count: optional(count) }),
  conductance: object({
    conductance: quantity("conductance"),
    at: temperature,
    exponent: optional(number("a number from 0 to 6", (n) => n >= 0 && n <= 6)),
    count: optional(count),
  }),
  faces: object({ faces: text, force, count: optional(count) }),
});

const back = object({ film: object(filmFields), joint, frame: optional(length) });

const mountFields = {
  name: text,
  die,
  pads: optional(pads),
  ring: optional(ring),
  bonds: optional(bonds),
  ledge: optional(object({ plating: optional(object(platingFields)) })),
  clamps: optional(list(clamp, "a list of clamps")),
  glue: optional(glue),
  back: optional(back),
  box,
  joint,
  stage: either(
    (value) => typeof value === "object" && value !== null && !isSpread(value),
    oneForm({
      coolingCurve: object({ coolingCurve: asGiven<Unnamed<CoolingCurve>>(shapes.coolingCurve) }),
      dilution: object({ dilution: asGiven<Unnamed<Dilution>>(shapes.dilution) }),
      demagnetisation: object({ demagnetisation: asGiven<SaltOptions>(shapes.demagnetisation) }),
    }),
    temperature,
  ),
  loads: list(load, "a list of loads"),
  limit: optional(
    oneForm({
      rise: object({ rise: temperature }),
      temperature: object({ temperature }),
      quality: object({ quality: aboveZero, resonator }),
      quasiparticleDensity: object({
        quasiparticleDensity: (value, field) => withMedians(value, field) as QuasiparticleDensity,
        superconductor: (value, field) =>
          withMedians(value, field) as ResonatorOptions["superconductor"],
      }),
    }),
  ),
};

/** A mount in SI: the same fields, plain numbers. */
export type PlainMount = ReadFields<typeof mountFields>;
/** A load in SI. */
export type PlainLoad = PlainMount["loads"][number];

const readFields: Reader<PlainMount> = object(mountFields);

/**
 * Checks a mount and turns it into plain numbers in SI, spreads into their medians.
 * @throws FieldError or UnknownNameError naming the field, what came and what was wanted
 */
export function readMount(mount: Mount | unknown): PlainMount {
  const plain = readFields(mount, "");
  checkTogether(plain);
  return plain;
}

/** What no single field can tell. */
function checkTogether(mount: PlainMount): void {
  const { die, pads, ring, bonds, clamps, glue, back, stage, limit } = mount;
  if (pads && ring) throw new FieldError("ring", "pads or a ring, not both", "both");
  if (bonds && !pads && !ring) {
    throw new FieldError("pads", "pads or a ring for the bonds to stand on", undefined);
  }
  if ((pads || ring) && !bonds) {
    throw new FieldError("bonds", `bonds on the ${pads ? "pads" : "ring"}`, undefined);
  }
  if (!bonds && !glue && !back && !clamps?.length) {
    throw new FieldError("mount", "bonds, clamps, glue or a pressed back for the heat", undefined);
  }
  const across = Math.min(die.width, die.length) / 2;
  if (bonds && pads) {
    const { pitch } = bonds;
    if (pitch !== undefined && pitch < pads.width) {
      throw new FieldError(
        "bonds.pitch",
        `at least the pads' width, ${formatGiven(pads.width, "m")}`,
        formatGiven(pitch, "m"),
      );
    }
    const corner = pads.length + (pads.inset ?? 0);
    const free = Math.min(die.width, die.length) - 2 * corner;
    if (corner < across && pads.width > free) {
      const words = `at most what the edge leaves between the corners, ${formatGiven(free, "m")}`;
      throw new FieldError("pads.width", words, formatGiven(pads.width, "m"));
    }
    if (pads.length + (pads.inset ?? 0) >= across) {
      throw new FieldError(
        "pads.length",
        `less than half the die, ${formatGiven(across, "m")}`,
        formatGiven(pads.length, "m"),
      );
    }
  }
  if (ring && ring.width + (ring.inset ?? 0) >= across) {
    throw new FieldError(
      "ring.width",
      `less than half the die, ${formatGiven(across, "m")}`,
      formatGiven(ring.width, "m"),
    );
  }
  if (back?.frame !== undefined && back.frame >= across) {
    throw new FieldError(
      "back.frame",
      `less than half the die, ${formatGiven(across, "m")}`,
      formatGiven(back.frame, "m"),
    );
  }
  for (const [name, holder] of [
    ...(clamps ?? []).map((c, i) => [`clamps[${i}]`, c] as const),
    ["glue", glue] as const,
  ]) {
    const { places, count } = holder ?? {};
    if (places && count !== undefined && places.length !== count) {
      throw new FieldError(`${name}.count`, `as many as there are places, ${places.length}`, count);
    }
  }
  const face = die.width * die.length;
  if (glue && glue.area * (glue.places?.length ?? glue.count ?? 1) > face) {
    throw new FieldError(
      "glue.area",
      `at most the die's face in all, ${formatGiven(face, "m^2")}`,
      formatGiven(glue.area, "m^2"),
    );
  }
  const thickest = Math.min(die.width, die.length) / 4;
  if (die.thickness > thickest) {
    const words = `a plate, at most a quarter of its shorter side, ${formatGiven(thickest, "m")}`;
    throw new FieldError("die.thickness", words, formatGiven(die.thickness, "m"));
  }
  if (limit && "temperature" in limit && typeof stage === "number" && limit.temperature <= stage) {
    throw new FieldError(
      "limit.temperature",
      `above the stage, ${formatGiven(stage, "K")}`,
      formatGiven(limit.temperature, "K"),
    );
  }
}
