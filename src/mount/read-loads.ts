/**
 * Reads the loads of a mount.
 * @module
 */
import type { ResonatorOptions } from "../device/quality.js";
import type { EnergySpectrum } from "../loads/energy-spectrum.js";
import type { Lamp } from "../loads/lamp.js";
import type { Millimetre } from "../loads/millimetre.js";
import type { NightSky } from "../loads/night-sky.js";
import type { Radiation } from "../loads/radiation.js";
import type { Wiring } from "../loads/wiring.js";
import { FieldError } from "../units/errors.js";
import type { LoadBase, Unnamed } from "./description.js";
import {
  aboveZero,
  byKind,
  count,
  either,
  exactNumber,
  has,
  list,
  number,
  object,
  oneOf,
  optional,
  quantity,
  quantityFromZero,
  type Reader,
  residualResistivityRatio,
  share,
  text,
} from "./fields.js";
import { onlyKnown, type Shape, shapes } from "./known-fields.js";
import { withMedians } from "./medians.js";

const length = quantity("length");
const area = quantity("area");
const temperature = quantity("temperature");
const power = quantityFromZero("power");
const fromZero = quantityFromZero("length");

const weight = exactNumber("a number, not negative", (x) => x >= 0);
const anyRows = list(
  list(weight, "a row of numbers, one for each pixel"),
  "a list of rows of pixels",
);
/** Rows of one length, with some heat in them. */
const pixelRows: typeof anyRows = (value, field) => {
  const rows = anyRows(value, field);
  const across = rows[0]?.length ?? 0;
  if (across === 0) throw new FieldError(field, "at least one row of one pixel", value);
  rows.forEach((row, i) => {
    if (row.length === across) return;
    const wanted = `${across} pixels, as many as in row 0`;
    throw new FieldError(`${field}[${i}]`, wanted, `${row.length} pixels`);
  });
  if (rows.flat().some((share) => share > 0)) return rows;
  throw new FieldError(field, "some pixel with more than 0", value);
};
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
  pixels: object({ kind: oneOf("pixels"), rows: pixelRows }),
});

const named = { name: optional(text), on: optional(oneOf("die", "box")) };
const loadFields = { ...named, map: optional(map) };

/**
 * An object whose own function reads its values, under the same path; its fields are checked here, and
 * spreads among them give way to their medians.
 */
export function asGiven<T>(shape: Shape): Reader<T> {
  return (value, field) => {
    if (typeof value !== "object" || value === null || Array.isArray(value)) {
      throw new FieldError(field, `an object with ${Object.keys(shape).join(", ")}`, value);
    }
    onlyKnown(value, field, shape);
    return withMedians(value, field) as T;
  };
}

type Placed<Kind, Options> = Omit<LoadBase, "map"> & {
  readonly kind: Kind;
  readonly map?: PlainMap;
} & Unnamed<Options>;
type PlainMap = ReturnType<typeof map>;

/** A load whose own function checks all of it but where it falls. */
function checkedLater<Kind, Options>(shape: Shape): Reader<Placed<Kind, Options>> {
  type T = Placed<Kind, Options>;
  const place = object(loadFields);
  const whole = asGiven<T>({ kind: true, name: true, on: true, map: anything, ...shape });
  return (value, field) => {
    const load = whole(value, field);
    const where = Object.keys(loadFields).filter((key) => Object.hasOwn(load, key));
    const placed = Object.fromEntries(where.map((key) => [key, load[key as keyof T]]));
    return { ...load, ...place(placed, field) };
  };
}

const anything = true;

const spectrum = asGiven<EnergySpectrum>(shapes.spectrum);
/** Of a load that goes by the die's mass. */
const dieFields = { ...loadFields, on: optional(oneOf("die")) };

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
export const resonator = asGiven<ResonatorOptions>(shapes.resonator);

/** By what tells how much of a tone stays: a share, a resonator, or a fixed quality factor. */
function readoutOf<A, B, C>(given: Reader<A>, film: Reader<B>, fixed: Reader<C>) {
  return either(has("dissipatedFraction"), given, either(has("resonator"), film, fixed));
}

export const load = byKind({
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
    object({ kind: oneOf("infrared"), ...loadFields, pixels: optional(count), power }),
    object({
      kind: oneOf("infrared"),
      ...loadFields,
      pixels: optional(count),
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
    exponent: optional(number("a power of the cosine from 0 to 20", (n) => n >= 0 && n <= 20)),
    momentum: optional(quantity("energy")),
    fluctuation: optional(oneOf("none", "landau")),
  }),
  background: either(
    has("powerPerMass"),
    object({
      kind: oneOf("background"),
      ...dieFields,
      powerPerMass: aboveZero,
      spectrum: optional(spectrum),
    }),
    either(
      has("spectrum"),
      object({ kind: oneOf("background"), ...loadFields, rate: optional(aboveZero), spectrum }),
      object({
        kind: oneOf("background"),
        ...loadFields,
        rate: aboveZero,
        energy: quantity("energy"),
      }),
    ),
  ),
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
  sky: checkedLater<"sky", NightSky>(shapes.sky),
  millimetre: checkedLater<"millimetre", Millimetre>(shapes.millimetre),
  radiation: checkedLater<"radiation", Radiation>(shapes.radiation),
  lamp: checkedLater<"lamp", Lamp>(shapes.lamp),
  wiring: checkedLater<"wiring", Wiring>(shapes.wiring),
  given: object({ kind: oneOf("given"), ...loadFields, power }),
});
