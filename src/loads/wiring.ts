/**
 * Bundles of coaxial lines and looms, and supports: heat down them from a warmer stage, or from stage to
 * stage where they are heat-sunk on their way.
 * @module
 */
import { type ConductivityOptions, conductivityFields } from "../materials/options.js";
import { standardCatalogue } from "../materials/standard.js";
import type { Catalogue } from "../materials/types.js";
import { given } from "../provenance.js";
import { type Extent, rangeWarnings } from "../ranges.js";
import { FieldError } from "../units/errors.js";
import * as read from "../units/fields.js";
import { formatGiven, formatQuantity } from "../units/format.js";
import { type Area, type Length, type Temperature, takenBy } from "../units/quantity.js";
import type { Uncertain } from "../units/spread.js";
import type { HeatLoad } from "./heat-load.js";
import type { LoadKind } from "./load-kind.js";
import { type Place, place } from "./load-map.js";

/** What a conductor or dielectric of a line is made of. */
export interface LineMaterial extends ConductivityOptions {
  /** Name in the catalogue. */
  readonly material: string;
}

/** One thing that runs from stage to stage: a conductor, a dielectric, a post, a tube. */
export interface Member extends LineMaterial {
  /** Round [m]; the outer diameter where there is an inner one. */
  readonly diameter?: Uncertain<Length>;
  /** Of a tube, or of a layer around something else [m]. */
  readonly innerDiameter?: Uncertain<Length>;
  /** Or of any shape [m²]: cross-section of one. */
  readonly area?: Uncertain<Area>;
  /** Alike in one line, 1 by default: the wires of a loom. */
  readonly count?: number;
  /** As the budget shows it where it lands apart from the others; its material when absent. */
  readonly name?: string;
  /** Where it ends, when not where the others do: the pin of a line on the die, its shield on the box. */
  readonly lands?: MemberEnd;
}

/** Where a member of a line ends. */
export interface MemberEnd {
  /** On `"die"`, on `"box"`, or on a piece of the path to the stage by its name. */
  readonly on: string;
  /** Middle of the square of the die on which its heat falls; as the load does when absent. */
  readonly place?: Place;
  /** Side of that square [m]; 1 mm when absent. */
  readonly size?: Uncertain<Length>;
}

/** A stage, and the way to it from the warmer one. */
export interface Sink {
  /** The stage. */
  readonly name: string;
  /** Temperature of the stage [K]. */
  readonly temperature: Uncertain<Temperature>;
  /** From the stage before [m]; the first has none. */
  readonly length?: Uncertain<Length>;
}

/** Lines alike, and the stages they are heat-sunk at. */
export interface Wiring {
  /** Name in the budget, `wiring` by default. */
  readonly name?: string;
  /** What makes up one line. */
  readonly members: readonly Member[];
  /** Lines alike, 1 by default. */
  readonly count?: number;
  /** From warm to cold, two or more. */
  readonly stages: readonly Sink[];
}

const length = read.optional(read.quantity("length"));
const temperature = read.quantity("temperature");
const memberFields: read.FieldsOf<Member> = {
  material: read.text,
  ...conductivityFields,
  diameter: length,
  innerDiameter: length,
  area: read.optional(read.quantity("area")),
  count: read.optional(read.count),
  name: read.optional(read.text),
  lands: read.optional(
    read.checked(
      read.object<MemberEnd>({ on: read.text, place: read.optional(place), size: length }),
      ({ on, place: at, size }, field) => {
        if (on === "die" && (at || size === undefined)) return;
        for (const [key, given] of Object.entries({ place: at, size })) {
          if (given === undefined) continue;
          const wanted = on === "die" ? "none without a place" : `none, since it ends on the ${on}`;
          throw new FieldError(`${field}.${key}`, wanted, given);
        }
      },
    ),
  ),
};

export const wiringKind: LoadKind<Wiring> = {
  fields: read.object<Wiring>({
    name: read.optional(read.text),
    members: read.list(read.object<Member>(memberFields), "a list of what a line is made of", 1),
    count: read.optional(read.count),
    stages: read.list(
      read.object<Sink>({ name: read.text, temperature, length }),
      "two stages or more, from warm to cold",
      2,
    ),
  }),
  landings: (options) => {
    const groups = new Map<string, (typeof options.members)[number][]>();
    for (const member of options.members) {
      const key = JSON.stringify(member.lands ?? "");
      groups.set(key, [...(groups.get(key) ?? []), member]);
    }
    return [...groups.values()].map((members) => {
      const { lands } = members[0]!;
      return {
        name: members.map(({ name, material }) => name ?? material).join(" and "),
        options: { ...options, members },
        ...(lands && { on: lands.on }),
        ...(lands?.place && { map: squareMap(lands.place, lands.size ?? 1e-3) }),
      };
    });
  },
  coldEnd: ({ stages }) => stages.at(-1)!.temperature,
  heat: (options, { name, field, catalogue }) => wiring({ ...options, name }, catalogue, field),
};

function squareMap({ x, y }: read.Plain<Place>, size: number) {
  const half = size / 2;
  return {
    kind: "rectangle" as const,
    left: x - half,
    right: x + half,
    bottom: y - half,
    top: y + half,
  };
}

/** What a stage receives and passes on. */
export interface SunkHeat {
  /** The stage. */
  readonly name: string;
  /** Temperature [K]. */
  readonly temperature: number;
  /** Down from the warmer stage [W]; 0 at the first. */
  readonly arrives: number;
  /** Down to the colder stage [W]; 0 at the last. */
  readonly leaves: number;
  /** That the stage has to carry off [W]; below 0 at the warm end, which gives it. */
  readonly stays: number;
}

/** Heat of a bundle at the coldest stage, and at each on the way. */
export interface SunkWiring extends HeatLoad {
  /** What each stage takes, warm to cold. */
  readonly stages: readonly SunkHeat[];
}

/**
 * Heat that a bundle brings to each stage it is heat-sunk at: between two stages N Σ (A/L) ∫ κ dT over its
 * members, so that a stage has to carry off what arrives less what goes on. `power` is that of the
 * coldest. The bundle takes each stage's temperature where it is heat-sunk.
 * Not included: poor sinking, radiation along the way, Joule heat, attenuators.
 * @param field - path of the wiring in the user's description, for errors
 * @throws FieldError, UnknownNameError; RangeError where κ has no source
 * @example wiring({ members: coax({ size: "0.085 in", conductor: { material: "stainless-steel" },
 *   dielectric: { material: "ptfe" } }), stages: [{ name: "room", temperature: "300 K" },
 *   { name: "50 K", temperature: "50 K", length: "200 mm" }] }).power // 26.5e-3
 */
export function wiring(
  options: Wiring,
  catalogue: Catalogue = standardCatalogue(),
  field = "wiring",
): SunkWiring {
  const plain = wiringKind.fields.read(options, field);
  const { name = "wiring", count = 1 } = plain;
  const stages = stagesOf(plain.stages, `${field}.stages`);
  const members = plain.members.map((member, i) =>
    memberOf(member, catalogue, `${field}.members[${i}]`),
  );

  const carried = stages.map(({ temperature, length }, i) => {
    const warmer = stages[i - 1];
    if (warmer === undefined) return 0;
    const sum = members.reduce(
      (total, { area, conductivity }) =>
        total + area * conductivity.between(temperature, warmer.temperature),
      0,
    );
    return (count * sum) / length;
  });
  const sunk = stages.map((stage, i): SunkHeat => {
    const { name, temperature } = stage;
    const [arrives, leaves] = [carried[i]!, carried[i + 1] ?? 0];
    return { name, temperature, arrives, leaves, stays: arrives - leaves };
  });
  return {
    name,
    power: carried.at(-1)!,
    stages: sunk,
    provenance: [
      ...members.flatMap(({ provenance }) => provenance),
      given(`${field}: lines`, count, ""),
      ...stages.flatMap(({ name, temperature, length }, i) => {
        const own = given(`${name}: temperature`, temperature, "K");
        return i === 0 ? own : [own, given(`${name}: length from the stage before`, length, "m")];
      }),
    ],
    details: Object.fromEntries(
      sunk.slice(1).map((stage) => [`stays at ${stage.name} [W]`, stage.stays]),
    ),
    warnings: warningsOf(name, members, [stages.at(-1)!.temperature, stages[0]!.temperature]),
  };
}

/** Stages from warm to cold; the length to the first is 0. */
function stagesOf(stages: readonly read.Plain<Sink>[], field: string) {
  return stages.map(({ name, temperature, length }, i) => {
    const at = `${field}[${i}]`;
    const warmer = stages[i - 1];
    if (warmer === undefined) return { name, temperature, length: 0 };
    if (temperature > warmer.temperature) {
      const words = `a temperature up to that of ${warmer.name} (${formatQuantity(warmer.temperature, "K")})`;
      throw new FieldError(`${at}.temperature`, words, formatGiven(temperature, "K"));
    }
    if (length === undefined) {
      throw new FieldError(
        `${at}.length`,
        `${takenBy("length").words}, from the stage before`,
        length,
      );
    }
    return { name, temperature, length };
  });
}

/** Cross-section of all that are alike [m²], and what it is made of. */
function memberOf(member: read.Plain<Member>, catalogue: Catalogue, field: string) {
  const { material, diameter, innerDiameter, area: _, name: __, lands: ___, ...rest } = member;
  const { count = 1, ...conductor } = rest;
  const conductivity = catalogue
    .material(material, `${field}.material`)
    .thermalConductivity(conductor, field);
  const area = count * areaOf(member, field);
  return {
    area,
    conductivity,
    provenance: [
      ...conductivity.provenance,
      given(`${field}: cross-section of ${material}`, area, "m^2"),
    ],
  };
}

function areaOf(
  { diameter: outer, innerDiameter: inner, area }: read.Plain<Member>,
  field: string,
): number {
  if (outer === undefined) {
    if (area === undefined) throw new FieldError(field, "either a diameter or an area", "neither");
    if (inner === undefined) return area;
    throw new FieldError(`${field}.innerDiameter`, "none beside an area", formatGiven(inner, "m"));
  }
  if (area !== undefined) throw new FieldError(field, "either a diameter or an area", "both");
  if (inner === undefined) return (Math.PI * outer ** 2) / 4;
  if (inner < outer) return (Math.PI * (outer ** 2 - inner ** 2)) / 4;
  const wanted = `a length below the outer diameter (${formatQuantity(outer, "m")})`;
  throw new FieldError(`${field}.innerDiameter`, wanted, formatGiven(inner, "m"));
}

/** Wires or supports alike, between two temperatures. */
export interface Conduction extends Member {
  /** Name in the budget, that of the material by default. */
  readonly name?: string;
  /** From the warm to the cold end [m]. */
  readonly length: Uncertain<Length>;
  /** Of the warm end [K]. */
  readonly warm: Uncertain<Temperature>;
  /** Of the cold end [K]. */
  readonly cold: Uncertain<Temperature>;
}

const conductionFields = read.object<Conduction>({
  ...memberFields,
  name: read.optional(read.text),
  length: read.quantity("length"),
  warm: temperature,
  cold: temperature,
});

/**
 * Heat that reaches the cold end: P = N (A/L) ∫ κ dT. For tables, where both ends are known; in a network
 * a wire is a strip from a fixed warm node. Not included: radiation along the way and the Joule heat of a
 * current.
 * @param field - path of the wires in the user's description, for errors
 * @throws FieldError, UnknownNameError; RangeError where κ has no source
 */
export function conduction(
  options: Conduction,
  catalogue: Catalogue = standardCatalogue(),
  field = "conduction",
): HeatLoad {
  const plain = conductionFields.read(options, field);
  const { name = plain.material, length, warm, cold, count = 1, ...one } = plain;
  const member = memberOf(one, catalogue, field);
  const { area, conductivity, provenance } = member;
  if (cold > warm) {
    const wanted = `a temperature up to warm (${formatQuantity(warm, "K")})`;
    throw new FieldError(`${field}.cold`, wanted, formatGiven(cold, "K"));
  }
  const integral = conductivity.between(cold, warm);
  return {
    name,
    power: ((count * area) / length) * integral,
    provenance: [
      ...provenance,
      given(`${field}: count`, count, ""),
      given(`${field}: length`, length, "m"),
      given(`${field}: warm end`, warm, "K"),
      given(`${field}: cold end`, cold, "K"),
    ],
    details: { "integral of the conductivity [W/m]": integral },
    warnings: warningsOf(name, [member], [cold, warm]),
  };
}

/** What is told of members whose conductivity was used outside its ranges. */
function warningsOf(name: string, members: readonly ReturnType<typeof memberOf>[], used: Extent) {
  return rangeWarnings(members.map(({ conductivity }) => ({ name, law: conductivity, used })));
}
