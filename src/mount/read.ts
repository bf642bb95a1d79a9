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
import type {
  LampLoad,
  MillimetreLoad,
  Mount,
  MountLoad,
  RadiationLoad,
  SkyLoad,
  Unnamed,
  WiringLoad,
} from "./description.js";
import {
  aboveZero,
  byKind,
  count,
  either,
  has,
  list,
  number,
  object,
  oneOf,
  optional,
  quantity,
  quantityFromZero,
  type Reader,
  type ReadFields,
  share,
  text,
} from "./fields.js";

const length = quantity("length");
const area = quantity("area");
const temperature = quantity("temperature");
const power = quantityFromZero("power");

const ratio = number("a residual resistivity ratio greater than 1", (r) => r > 1);
const residualResistivityRatio = either(
  (value) => typeof value === "object",
  object({ value: ratio, warm: temperature }),
  ratio,
);

const die = object({
  material: text,
  width: length,
  length,
  thickness: length,
  meanFreePath: optional(length),
  specularity: optional(number("a number from 0 to below 1", (p) => p >= 0 && p < 1)),
  model: optional(oneOf("sheet", "centre and edge", "one node")),
  cells: optional(
    number(
      "a power of two from 8 to 512",
      (n) => n >= 8 && n <= 512 && Number.isInteger(Math.log2(n)),
    ),
  ),
});

const fromZero = quantityFromZero("length");
const places = optional(list(object({ x: fromZero, y: fromZero }), "a list of places"));

const filmFields = {
  material: text,
  thickness: length,
  residualResistivityRatio: optional(residualResistivityRatio),
  boundary: optional(
    either(
      has("measured"),
      object({ measured: text }),
      either(has("resistance"), object({ resistance: aboveZero }), oneOf("diffuse mismatch")),
    ),
  ),
  coupling: optional(
    either(
      has("sample"),
      object({ sample: text }),
      object({
        coefficient: aboveZero,
        exponent: number("a number from 3 to 8", (n) => n >= 3 && n <= 8),
      }),
    ),
  ),
};

const pads = object({ ...filmFields, width: length, length, inset: optional(fromZero) });
const ring = object({ ...filmFields, width: length, inset: optional(fromZero) });

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
  edges: optional(oneOf(1, 2, 3, 4)),
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

const glue = either(
  has("glue"),
  object({ glue: text, area, thickness: optional(length), count: optional(count), places }),
  object({
    material: text,
    area,
    thickness: length,
    boundaryResistance: optional(aboveZero),
    count: optional(count),
    places,
  }),
);

const box = object({
  material: text,
  residualResistivityRatio: optional(residualResistivityRatio),
  crossSection: area,
  pathLength: length,
  plating: optional(object({ ...platingFields, width: length })),
});

const joint = either(
  has("resistance"),
  object({ resistance: quantity("resistance"), count: optional(count) }),
  either(
    has("conductance"),
    object({
      conductance: quantity("conductance"),
      at: temperature,
      exponent: optional(number("a number from 0 to 6", (n) => n >= 0 && n <= 6)),
      count: optional(count),
    }),
    object({ faces: text, force, count: optional(count) }),
  ),
);

const back = object({ film: object(filmFields), joint, frame: optional(length) });

const weight = number("a number, not negative", (x) => x >= 0);
const map = byKind({
  uniform: object({ kind: oneOf("uniform") }),
  rectangle: object({
    kind: oneOf("rectangle"),
    left: fromZero,
    right: fromZero,
    bottom: fromZero,
    top: fromZero,
  }),
  spot: object({ kind: oneOf("spot"), x: fromZero, y: fromZero, radius: length }),
  pixels: object({
    kind: oneOf("pixels"),
    rows: list(list(weight, "a row of numbers, one for each pixel"), "a list of rows of pixels"),
  }),
});

const named = { name: optional(text), on: optional(oneOf("die", "box")) };
const loadFields = { ...named, map: optional(map) };

/** An object whose own function reads and checks it, under the same path. */
function asGiven<T>(value: unknown, field: string): T {
  if (typeof value === "object" && value !== null && !Array.isArray(value)) return value as T;
  throw new FieldError(field, "an object", value);
}

/** A load whose own function checks all of it but where it falls. */
function checkedLater<T extends MountLoad>(value: unknown, field: string): T {
  const load = asGiven<T>(value, field);
  const place = object(loadFields);
  const where = Object.keys(loadFields).filter((key) => Object.hasOwn(load, key));
  const placed = Object.fromEntries(where.map((key) => [key, load[key as keyof T]]));
  return { ...load, ...place(placed, field) };
}

const readoutFields = {
  kind: oneOf("readout"),
  ...loadFields,
  attenuation: optional(
    list(
      number("a loss in decibels", (x) => x >= 0),
      "a list of losses",
    ),
  ),
  lineLoss: optional(number("a number of decibels, not negative", (x) => x >= 0)),
};
const alike = { tones: count, powerPerTone: power };
const eachTone = {
  toneList: list(
    either(
      (value) => typeof value === "object",
      object({
        power,
        detuning: optional(number("a number of linewidths", () => true)),
      }),
      power,
    ),
    "a list of tones",
  ),
};
const coupling = {
  couplingQuality: aboveZero,
  detuning: optional(number("a number of linewidths", () => true)),
};
const resonator = asGiven<ResonatorOptions>;

/** By what tells how much of a tone stays: a share, a resonator, or a fixed quality factor. */
function readoutOf<A, B, C>(given: Reader<A>, film: Reader<B>, fixed: Reader<C>) {
  return either(has("dissipatedFraction"), given, either(has("resonator"), film, fixed));
}

const load = byKind({
  readout: either(
    has("toneList"),
    readoutOf(
      object({ ...readoutFields, ...eachTone, dissipatedFraction: share }),
      object({ ...readoutFields, ...eachTone, ...coupling, resonator }),
      object({ ...readoutFields, ...eachTone, ...coupling, internalQuality: aboveZero }),
    ),
    readoutOf(
      object({ ...readoutFields, ...alike, dissipatedFraction: share }),
      object({ ...readoutFields, ...alike, ...coupling, resonator }),
      object({ ...readoutFields, ...alike, ...coupling, internalQuality: aboveZero }),
    ),
  ),
  optical: either(
    has("powerPerPixel"),
    object({ kind: oneOf("optical"), ...loadFields, pixels: count, powerPerPixel: power }),
    object({
      kind: oneOf("optical"),
      ...loadFields,
      pixels: count,
      temperature,
      from: quantity("frequency"),
      to: quantity("frequency"),
      modes: optional(aboveZero),
      efficiency: optional(share),
      law: optional(oneOf("planck", "rayleigh-jeans")),
    }),
  ),
  infrared: either(
    has("power"),
    object({ kind: oneOf("infrared"), ...loadFields, power }),
    object({
      kind: oneOf("infrared"),
      ...loadFields,
      hot: temperature,
      cold: optional(temperature),
      area,
      emissivity: share,
      viewFactor: optional(share),
    }),
  ),
  muons: object({
    kind: oneOf("muons"),
    name: optional(text),
    flux: optional(aboveZero),
    tilt: optional(quantityFromZero("angle")),
    exponent: optional(aboveZero),
    momentum: optional(quantity("energy")),
  }),
  background: object({
    kind: oneOf("background"),
    ...loadFields,
    rate: aboveZero,
    energy: quantity("energy"),
  }),
  conduction: object({
    kind: oneOf("conduction"),
    ...named,
    place: optional(object({ x: fromZero, y: fromZero })),
    material: text,
    count: optional(count),
    length,
    diameter: optional(length),
    area: optional(area),
    residualResistivityRatio: optional(residualResistivityRatio),
    meanFreePath: optional(length),
    sample: optional(text),
    from: temperature,
  }),
  sky: checkedLater<SkyLoad>,
  millimetre: checkedLater<MillimetreLoad>,
  radiation: checkedLater<RadiationLoad>,
  lamp: checkedLater<LampLoad>,
  wiring: checkedLater<WiringLoad>,
  given: object({ kind: oneOf("given"), ...loadFields, power }),
});

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
    (value) => typeof value === "object" && value !== null,
    either(
      has("dilution"),
      object({ dilution: asGiven<Unnamed<Dilution>> }),
      either(
        has("demagnetisation"),
        object({ demagnetisation: asGiven<SaltOptions> }),
        object({ coolingCurve: asGiven<Unnamed<CoolingCurve>> }),
      ),
    ),
    temperature,
  ),
  loads: list(load, "a list of loads"),
  limit: optional(
    either(
      has("rise"),
      object({ rise: temperature }),
      either(
        has("quality"),
        object({ quality: aboveZero, resonator }),
        either(
          has("quasiparticleDensity"),
          object({
            quasiparticleDensity: (value: unknown) => value as QuasiparticleDensity,
            superconductor: (value: unknown) => value as ResonatorOptions["superconductor"],
          }),
          object({ temperature }),
        ),
      ),
    ),
  ),
};

/** A mount in SI: the same fields, plain numbers. */
export type PlainMount = ReadFields<typeof mountFields>;
/** A load in SI. */
export type PlainLoad = PlainMount["loads"][number];

const readFields: Reader<PlainMount> = object(mountFields);

/**
 * Checks a mount and turns it into plain numbers in SI.
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
      throw new FieldError("bonds.pitch", `at least the pads' width, ${pads.width} m`, pitch);
    }
    if (pads.length + (pads.inset ?? 0) >= across) {
      throw new FieldError("pads.length", `less than half the die, ${across} m`, pads.length);
    }
  }
  if (ring && ring.width + (ring.inset ?? 0) >= across) {
    throw new FieldError("ring.width", `less than half the die, ${across} m`, ring.width);
  }
  if (back?.frame !== undefined && back.frame >= across) {
    throw new FieldError("back.frame", `less than half the die, ${across} m`, back.frame);
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
  const thickest = Math.min(die.width, die.length) / 4;
  if (die.thickness > thickest) {
    const words = `a plate, at most a quarter of its shorter side, ${thickest} m`;
    throw new FieldError("die.thickness", words, die.thickness);
  }
  if (limit && "temperature" in limit && typeof stage === "number" && limit.temperature <= stage) {
    throw new FieldError("limit.temperature", `above the stage, ${stage} K`, limit.temperature);
  }
}
