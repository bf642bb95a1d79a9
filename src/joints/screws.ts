/**
 * The force of screws: from the torque that tightened them, and what cooling leaves of it.
 * @module
 */
import { standardCatalogue } from "../materials/standard.js";
import type { Catalogue, Datum } from "../materials/types.js";
import { given, type Provenance } from "../provenance.js";
import { FieldError } from "../units/errors.js";
import * as read from "../units/fields.js";
import { formatQuantity, formatShare } from "../units/format.js";
import { type Length, occursAboveZero, type RareQuantity } from "../units/quantity.js";
import type { Uncertain } from "../units/spread.js";
import { recordOf } from "./laws.js";

type TorqueUnit = "N m" | "mN m" | "N cm" | "lbf in";
type StiffnessUnit = "N/m" | "N/mm" | "kN/mm" | "N/um";
/** A torque: newton metres, or a string such as `"0.6 N m"`. */
export type Torque = RareQuantity<TorqueUnit>;
/** A stiffness: newtons a metre, or a string such as `"1 kN/mm"`. */
export type Stiffness = RareQuantity<StiffnessUnit>;

/** Screws alike, tightened by a torque. */
export interface Screws {
  /** Thread, by its name in data/joints/screws.csv: `"M3"`, `"4-40"`. */
  readonly size: string;
  /** With which each is tightened, at room temperature [N m]. */
  readonly torque: Uncertain<Torque>;
  /** How many; 1 when absent. */
  readonly count?: number;
  /** K of F = torque/(K × diameter): 0.1 with wax to 0.4 dry on soft metal; the catalogue's when absent. */
  readonly nutFactor?: Uncertain<number>;
  /** Material of the screws; `stainless-steel` when absent. */
  readonly material?: string;
  /**
   * What they clamp, from under the head to the thread: washers, flange. When absent the force is taken
   * to be that at room temperature.
   */
  readonly clamped?: readonly (ClampedLayer | Spring)[];
  /** Length by which rough faces settle after tightening [m]; 0 when absent. */
  readonly settling?: Uncertain<Length>;
}

/** A layer under the head. */
export interface ClampedLayer {
  /** Material, by its name in the catalogue. */
  readonly material: string;
  /** Along the screw [m]. */
  readonly thickness: Uncertain<Length>;
}

/** A spring washer under the head: it gives, so that less force is lost. */
export interface Spring {
  /** Of the spring, or of all of them together [N/m]. */
  readonly stiffness: Uncertain<Stiffness>;
}

const torque = read.rareQuantity<TorqueUnit>({
  units: ["N m", "mN m", "N cm", "lbf in"],
  words: 'a torque such as "0.6 N m" or a number in newton metres',
});
const stiffness = read.rareQuantity<StiffnessUnit>({
  units: ["N/m", "N/mm", "kN/mm", "N/um"],
  words: 'a stiffness such as "1 kN/mm" or a number in newtons a metre',
});

/** Reads screws. */
export const screwsField = read.object<Screws>({
  size: read.text,
  torque,
  count: read.optional(read.count),
  nutFactor: read.optional(
    read.number("a nut factor greater than 0, at most 1", (k) => occursAboveZero(k) && k <= 1),
  ),
  material: read.optional(read.text),
  clamped: read.optional(
    read.list(
      read.oneForm<ClampedLayer | Spring>()({
        material: { material: read.text, thickness: read.quantity("length") },
        stiffness: { stiffness },
      }),
      "a list of one layer or more under the head",
      1,
    ),
  ),
  settling: read.optional(read.quantityFromZero("length")),
});

/** The force of one screw, and how it came to be. */
export interface ScrewForce {
  /** Right after tightening [N]. */
  readonly warm: number;
  /** At the temperatures of the mount [N]; above 0. */
  readonly cold: number;
  /** Stiffness of screw and clamped layers end to end [N/m]; absent when no layers are given. */
  readonly stiffness?: number;
  /** What is odd about it, in words. */
  readonly warnings: readonly string[];
  readonly provenance: readonly Provenance[];
}

/** With less than this share of its preload left, a screw is as good as loose. */
const leastLeft = 0.5;

/**
 * Force of one screw: F = T/(K d), less (Σ εᵢtᵢ − ε_s L + settling)/(1/k_s + Σ 1/kᵢ) once cold, where ε is
 * the contraction from 293 to 4 K, L = Σtᵢ the clamped length, and
 *   1/k_s = (L + (h + t) d)/(A_s E_s),
 *   1/kᵢ = ln[(2tᵢ tan α + D − d)(D + d)/((2tᵢ tan α + D + d)(D − d))]/(π E d tan α),
 * a cone of half-angle α that opens from the head, D = D_head + 2 tan α Σ_{j<i} tⱼ, to a tapped hole.
 * Elastic moduli are those at room temperature; what happens on warming up again is not included.
 * Source: R. G. Budynas and J. K. Nisbett, Shigley's Mechanical Engineering Design, 10th ed. (2015), eqs.
 * 8-16, 8-20 and 8-27; the screw's end pieces: VDI 2230.
 * @param field - path of the screws in the user's description, for errors
 * @throws FieldError, also where nothing is left of the force; UnknownNameError listing the sizes
 * @example screwForce({ size: "M3", torque: "0.6 N m", nutFactor: 0.2 }).warm // 1000
 */
export function screwForce(
  options: Screws,
  catalogue: Catalogue = standardCatalogue(),
  field = "screws",
): ScrewForce {
  const plain = screwsField.read(options, field);
  const { size, torque: tightened, material = "stainless-steel", clamped, settling = 0 } = plain;
  const of = (name: string) =>
    recordOf(
      { kind: "screws", key: "size", what: "size of screw", name, sample: undefined },
      catalogue,
      field,
    );
  const [thread, any] = [of(size), of("any screw")];
  const diameter = thread.value("nominal_diameter", "m");
  const area = thread.value("stress_area", "m^2");
  const factor = plain.nutFactor ?? any.value("nut_factor", "");
  const warm = tightened / (factor * diameter);
  const found: Provenance[] = [
    given(`${field}: torque`, tightened, "N m"),
    ...(plain.nutFactor === undefined ? [] : [given(`${field}: nut factor`, factor, "")]),
    ...any.provenance.filter(({ quantity }) =>
      quantity.includes("nut factor") ? plain.nutFactor === undefined : clamped !== undefined,
    ),
    ...thread.provenance,
    given(`${field}: preload`, warm, "N", "torque over nut factor and diameter"),
  ];
  const number = (name: string, property: string, at: string): number => {
    const datum = constantOf(catalogue, name, property, at);
    found.push(datum.provenance);
    return datum.value;
  };

  const warnings: string[] = [];
  const steel = catalogue.material(material, `${field}.material`);
  if (steel.properties.has("yield_strength")) {
    const most = area * number(material, "yield_strength", `${field}.material`);
    if (warm > most) {
      const words = `${formatQuantity(warm, "N")} is more than a screw of ${material} bears, ${formatQuantity(most, "N")}`;
      warnings.push(`${field}: the preload of ${words}: it yields.`);
    }
  }
  if (!clamped) {
    warnings.push(
      `${field}: what the screws clamp is not given (clamped), so nothing is taken off their force for cooling.`,
    );
    return { warm, cold: warm, warnings, provenance: found };
  }

  const slope = any.value("cone_slope", "");
  const ends = any.value("head_length", "") + any.value("thread_length", "");
  let [cone, give, shrink, length] = [thread.value("head_diameter", "m"), 0, 0, 0];
  clamped.forEach((layer, i) => {
    if ("stiffness" in layer) {
      give += 1 / layer.stiffness;
      found.push(given(`${field}.clamped[${i}]: stiffness`, layer.stiffness, "N/m"));
      return;
    }
    const { material: name, thickness } = layer;
    const at = `${field}.clamped[${i}].material`;
    const wider = cone + 2 * thickness * slope;
    const ratio =
      ((wider - diameter) * (cone + diameter)) / ((wider + diameter) * (cone - diameter));
    const modulus = number(name, "youngs_modulus", at);
    give += Math.log(ratio) / (Math.PI * modulus * diameter * slope);
    shrink += number(name, "thermal_contraction", at) * thickness;
    found.push(given(`${field}.clamped[${i}]: thickness`, thickness, "m"));
    length += thickness;
    cone = wider;
  });
  const modulus = number(material, "youngs_modulus", `${field}.material`);
  give += (length + ends * diameter) / (area * modulus);
  const own = number(material, "thermal_contraction", `${field}.material`) * length;
  const cold = warm - (shrink - own + settling) / give;
  if (settling > 0) found.push(given(`${field}: settling`, settling, "m"));
  found.push(given(`${field}: force when cold`, cold, "N", "preload less what contraction takes"));
  const story =
    `of the preload of ${formatQuantity(warm, "N")}, ${formatQuantity(warm - cold, "N")} go: what is clamped ` +
    `shrinks by ${formatQuantity(shrink, "m")}, the screw by ${formatQuantity(own, "m")}` +
    (settling > 0 ? `, and the faces settle by ${formatQuantity(settling, "m")}` : "");
  if (!(cold > 0)) {
    const cure = "more torque, a longer screw, a washer that shrinks less, or a spring washer";
    const words = `screws that hold when cold (${cure}); ${story}`;
    throw new FieldError(field, words, formatQuantity(cold, "N"));
  }
  if (cold < leastLeft * warm) {
    warnings.push(
      `${field}: only ${formatShare(cold / warm)} of the force is left when cold; ${story}.`,
    );
  }
  return { warm, cold, stiffness: 1 / give, warnings, provenance: found };
}

/** A constant of a material; what it lacks is told by the field that names the material. */
function constantOf(catalogue: Catalogue, name: string, property: string, field: string): Datum {
  const material = catalogue.material(name, field);
  if (material.properties.has(property)) return material.constant(property);
  const words = property.replace("youngs", "Young's").replace(/_/g, " ");
  throw new FieldError(field, `a material whose ${words} is on file`, name);
}
