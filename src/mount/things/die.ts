/**
 * The chip: a rectangular plate, how heat spreads in it, and what it stores.
 * @module
 */
import { type Conductor, type HeatStore, powerConductor } from "../../conductor.js";
import { phononRadiation } from "../../joints/boundary.js";
import { heatStore } from "../../joints/heat-store.js";
import { sheetFactor } from "../../joints/spreading.js";
import { stripConductor } from "../../joints/strip.js";
import { plateMeanFreePath } from "../../materials/phonons.js";
import type { Catalogue, Conductivity, SoundSpeeds } from "../../materials/types.js";
import { given } from "../../provenance.js";
import { boltzmann, reducedPlanck } from "../../units/constants.js";
import { FieldError } from "../../units/errors.js";
import {
  exactNumber,
  type FieldsOf,
  number,
  object,
  oneOf,
  optional,
  type Plain,
  quantity,
  text,
} from "../../units/fields.js";
import { formatGiven } from "../../units/format.js";
import type { Length } from "../../units/quantity.js";
import type { Uncertain } from "../../units/spread.js";
import { inMaterial, type Thing } from "../thing.js";
import { cooledSides, type OnEdges, type Side } from "./edges.js";
import { metres } from "./film.js";
import { type Finish, faceShares, finishFields, plateSpecularity } from "./finish.js";

/** The chip: a rectangular plate. */
export interface Die {
  /** Material, for example `"silicon"`. */
  readonly material: string;
  /** Side along the x axis [m]. */
  readonly width: Uncertain<Length>;
  /** Side along the y axis [m]. */
  readonly length: Uncertain<Length>;
  /** Thickness [m]. */
  readonly thickness: Uncertain<Length>;
  /** Mean free path of phonons [m]; from the thickness and diffuse faces when absent. */
  readonly meanFreePath?: Uncertain<Length>;
  /** Share of phonons that the faces reflect like a mirror, 0 to below 1; 0 when absent. */
  readonly specularity?: Uncertain<number>;
  /**
   * Finish of the faces, which tells their share where `specularity` is absent. With it phonons fly, unless
   * `model` says otherwise.
   */
  readonly finish?: Finish;
  /** With `"flights"`, the length between scatterings inside the die [m]; none when absent. */
  readonly bulkLength?: Uncertain<Length>;
  /**
   * `"sheet"`: the temperature of every place, with pads, clamps and glue where they are. `"flights"`:
   * the same, but phonons fly from face to face, as they do below about 1 K, and are counted; a first
   * solve takes a second or more, a chance with unknown faces a minute. `"two nodes"`, quick: the load is
   * spread evenly and leaves at the edges that have bonds; the centre is the hottest point. `"one node"`:
   * the die has one temperature.
   *
   * When absent, `"flights"` where the die has a `finish`, a `bulkLength` or `rays`, and no die of the mount
   * a `meanFreePath`; else `"sheet"`.
   */
  readonly model?: DieModel;
  /**
   * Cells along the longer side: a power of two from 8 to 512. When absent 128, or more where contacts
   * stand closer than that tells apart; 32 with `"flights"`.
   */
  readonly cells?: number;
  /** With `"flights"`, phonons flown for each load; 65536 when absent. */
  readonly rays?: number;
}

/** How the die's temperature is resolved. */
export type DieModel = "sheet" | "flights" | "two nodes" | "one node";

/** The model of all dies of a mount that gives none, and why it is that. */
export function usualModel({ die: own, dies = {} }: WithDie): readonly [DieModel, since: string] {
  const told = (["finish", "bulkLength", "rays"] as const).find((key) => own[key] !== undefined);
  if (told === undefined) return ["sheet", "die.finish is not given"];
  const named = Object.entries(dies).map(([name, { die }]) => [`dies.${name}.die`, die] as const);
  const all = [["die", own] as const, ...named];
  const other = all.find(([, { meanFreePath }]) => meanFreePath !== undefined);
  return other
    ? ["sheet", `${other[0]}.meanFreePath is given`]
    : ["flights", `die.${told} is given`];
}

/** Whether a model tells the temperature of every place of the die. */
export const isResolved = (model: DieModel) => model === "sheet" || model === "flights";

interface WithDie extends Pick<OnEdges, "bonds"> {
  readonly die: Plain<Die>;
  readonly dies?: Readonly<Record<string, { readonly die: Pick<Plain<Die>, "meanFreePath"> }>>;
}

/** Name of the step from the hottest point of the die to where the heat leaves it. */
export const spreading = "spreading in the die";

/** The conductor of one square of the die, Θ = thickness · ∫κ dT; of flights, Θ = σ S T⁴ of its front. */
export function dieSquare({ die: own }: WithDie, catalogue: Catalogue): Conductor {
  if (own.model === "flights") {
    const speeds = catalogue.material(own.material, "die.material").soundSpeeds();
    const law = radiationLaw(speeds, own);
    const { provenance } = faceShares(own, catalogue);
    return withSize({ ...law, provenance: [...speeds.provenance, ...provenance] }, own);
  }
  return withSize(stripConductor(dieConductivity(own, catalogue), own.thickness), own);
}

/** Above about 3 K phonons also scatter inside the die, and the more the shorter they are. */
const warmestFlight = 3;

/** What phonons bring to the front, and to a wall of its area. */
export function radiationLaw(
  speeds: SoundSpeeds,
  own: Pick<Plain<Die>, "width" | "length" | "thickness">,
): Conductor {
  // Below it, the most frequent phonons of heat, of wavelength h v/(2.82 k_B T), are longer than the die
  // is thick.
  const longest = (2 * Math.PI * reducedPlanck * meanSpeed(speeds)) / (2.82 * boltzmann);
  return powerConductor(own.width * own.length * phononRadiation(speeds), 4, {
    ranges: [
      {
        from: longest / own.thickness,
        to: warmestFlight,
        of: "flights of phonons: shorter than the die is thick, and scattered by its faces alone",
        outside: "warn",
      },
    ],
    provenance: speeds.provenance,
  });
}

/** What a die's phonons of heat fly in a second, Σ c⁻²/Σ c⁻³: four times their flow over their energy. */
export function meanSpeed({ longitudinal: l, transverse: t }: SoundSpeeds): number {
  return (l ** -2 + 2 * t ** -2) / (l ** -3 + 2 * t ** -3);
}

/** From the centre of an evenly heated die to the edges that carry bonds; to all of them without bonds. */
export function centreToEdge(mount: WithDie, catalogue: Catalogue): Conductor {
  const { die: own } = mount;
  const shape = own.thickness / hottestFactor(mount);
  return withSize(stripConductor(dieConductivity(own, catalogue), shape), own);
}

/** A share of the heat that the die stores. */
export function dieStore({ die: own }: WithDie, catalogue: Catalogue, share: number): HeatStore {
  const { material, width, length, thickness } = own;
  return heatStore({ material, volume: share * width * length * thickness }, catalogue, "die");
}

/** A conductor of the die, with the die's size among its numbers. */
function withSize(conductor: Conductor, own: Plain<Die>): Conductor {
  return {
    ...conductor,
    provenance: [
      ...(conductor.provenance ?? []),
      given("die: width", own.width, "m"),
      given("die: length", own.length, "m"),
      given("die: thickness", own.thickness, "m"),
    ],
  };
}

function dieConductivity(own: Plain<Die>, catalogue: Catalogue): Conductivity {
  const material = catalogue.material(own.material, "die.material");
  const along = (meanFreePath: number) =>
    inMaterial(own.material, "die.material", () => material.thermalConductivity({ meanFreePath }));
  if (own.meanFreePath !== undefined) return along(own.meanFreePath);
  const meanFreePath = plateMeanFreePath({
    thickness: own.thickness,
    width: Math.min(own.width, own.length),
    specularity: plateSpecularity(own, catalogue),
  });
  const conductivity = along(meanFreePath);
  return {
    ...conductivity,
    provenance: conductivity.provenance.map((row) =>
      row.quantity.endsWith("mean free path of phonons") ? { ...row, ...fuchs } : row,
    ),
  };
}

/** Where a mean free path comes from that the mount does not give. */
const fuchs = {
  source:
    "K. Fuchs, The conductivity of thin metallic films according to the electron theory of " +
    "metals, Proc. Camb. Phil. Soc. 34, 100 (1938)",
  where: "thin-film limit",
  note: "computed from the die's thickness, width and specularity",
};

/** Of the two sides across the die, and of the two along it, how many are cooled; and its size [m]. */
function cooledPlate(mount: WithDie) {
  const sides = cooledSides(mount);
  const cooled = (...names: Side[]) => names.filter((name) => sides.includes(name)).length;
  const { width, length } = mount.die;
  return { across: cooled("left", "right"), along: cooled("lower", "upper"), width, length };
}

/**
 * Length over width of a plate cooled at all four sides. A plate cooled at one side only is half of one
 * twice as long, mirrored at the free side, that is cooled at both.
 */
function mirrored({ across, along, width, length }: ReturnType<typeof cooledPlate>) {
  const [wider, longer] = [across === 1 ? 2 : 1, along === 1 ? 2 : 1];
  return { aspect: (longer * length) / (wider * width), copies: wider * longer };
}

/**
 * ΔΘ·thickness/P between the hottest point and the cooled edges of an evenly heated plate; with no cooled
 * side across, heat runs one way.
 */
function hottestFactor(mount: WithDie): number {
  const plate = cooledPlate(mount);
  const { across, along, width, length } = plate;
  if (across === 0) return length / width / (along === 2 ? 8 : 2);
  if (along === 0) return width / length / (across === 2 ? 8 : 2);
  const { aspect, copies } = mirrored(plate);
  return copies * sheetFactor(aspect, "hottest");
}

/**
 * Mean rise of an evenly loaded die above its edges over that of the hottest point: two thirds where heat
 * runs one way, a parabola; less where it runs to all sides.
 */
export function meanOverHottest(mount: WithDie): number {
  const plate = cooledPlate(mount);
  if (plate.across === 0 || plate.along === 0) return 2 / 3;
  const { aspect } = mirrored(plate);
  return sheetFactor(aspect, "mean") / sheetFactor(aspect, "hottest");
}

export const dieFields: FieldsOf<Die> = {
  material: text,
  width: quantity("length"),
  length: quantity("length"),
  thickness: quantity("length"),
  meanFreePath: optional(quantity("length")),
  specularity: optional(number("a number from 0 to below 1", (p) => p >= 0 && p < 1)),
  finish: optional(object<Finish>(finishFields)),
  bulkLength: optional(quantity("length")),
  model: optional(oneOf("sheet", "flights", "two nodes", "one node")),
  cells: optional(
    exactNumber(
      "a power of two from 8 to 512",
      (n) => n >= 8 && n <= 512 && Number.isInteger(Math.log2(n)),
      true,
    ),
  ),
  rays: optional(
    exactNumber("a whole number from 256 to 16777216", (n) => n >= 256 && n <= 2 ** 24, true),
  ),
};

export const die: Thing<Die, WithDie> = {
  field: object<Die>(dieFields),
  withDefaults: (mount) => ({ ...mount.die, model: mount.die.model ?? usualModel(mount)[0] }),
  rules({ die: own }) {
    const thickest = Math.min(own.width, own.length) / 4;
    if (own.thickness > thickest) {
      const words = `a plate, at most a quarter of its shorter side, ${formatGiven(thickest, "m")}`;
      throw new FieldError("die.thickness", words, formatGiven(own.thickness, "m"));
    }
    if (own.model === "flights") {
      if (own.meanFreePath === undefined) return;
      const wanted = "none for flights, which find it; bulkLength, specularity or finish instead";
      throw new FieldError("die.meanFreePath", wanted, formatGiven(own.meanFreePath, "m"));
    }
  },
  warnings: ({ die: own, bonds }) => [
    ...(own.model === "two nodes" && !bonds
      ? [
          "spreading in the die: counted towards four cooled edges; clamps and glue spots draw the " +
            "heat to points, which costs more. The sheet model tells.",
        ]
      : []),
    ...(["bulkLength", "rays"] as const)
      .filter((field) => own.model !== "flights" && own[field] !== undefined)
      .map((field) => `die.${field}: without effect, since the model of the die is not "flights".`),
  ],
  drawn: ({ die: own }) => [
    {
      kind: "die",
      look: "die",
      name: "die",
      details: [
        own.material,
        `${metres(own.width)} × ${metres(own.length)}, ${metres(own.thickness)} thick`,
      ],
      places: [{ left: 0, right: own.width, bottom: 0, top: own.length }],
      thickness: own.thickness,
    },
  ],
};
