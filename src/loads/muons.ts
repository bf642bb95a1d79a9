/**
 * Muons that cross the chip: their mean heat, and single hits.
 * @module
 */
import { standardCatalogue } from "../materials/standard.js";
import type { Catalogue, Datum } from "../materials/types.js";
import { given } from "../provenance.js";
import { FieldError } from "../units/errors.js";
import * as read from "../units/fields.js";
import type { Angle, Area, Energy, Length, RareQuantity } from "../units/quantity.js";
import type { Uncertain } from "../units/spread.js";
import { boxSum, crossings, skySum } from "./angle-law.js";
import { landauLoss, meanLoss } from "./energy-loss.js";
import type { HeatLoad } from "./heat-load.js";
import { particleNumber } from "./law-number.js";
import type { LoadContext, LoadKind } from "./load-kind.js";
import type { ParticleSource } from "./particle-source.js";
import {
  ionisation,
  leastLossMomentum,
  type StoppingPower,
  stoppingPower,
} from "./stopping-power.js";

/** A die under the open sky. */
export type Muons = {
  /** Name in the budget, `muons` by default. */
  readonly name?: string;
  /** Of the die, in the catalogue. */
  readonly material: string;
  /** Thickness of the die [m]. */
  readonly thickness: Uncertain<Length>;
  /**
   * Which muons of sea level are counted: `"all"` (default), about 1 per cm² and minute through a horizontal
   * face; `"above 1 GeV/c"`, 0.66 of them. Not with a `flux`.
   */
  readonly counted?: "all" | "above 1 GeV/c";
  /** Through a horizontal face under the open sky [1/(m² s)]; at sea level by default. */
  readonly flux?: Uncertain<RareQuantity<"1/(m^2 s)" | "1/(cm^2 s)" | "1/(cm^2 min)">>;
  /**
   * Roof or hill above the die, as metres of water of the same mass, to 500 m [m]; none by default. A metre
   * of concrete is 2.4 m of water, one of rock 2.7 m.
   */
  readonly overburden?: Uncertain<Length>;
  /**
   * n of an intensity that falls as cosⁿ of the zenith angle, 2 by default; 0 for one that is the same
   * from everywhere, as in space, with a `flux` that counts both sides of the face.
   */
  readonly exponent?: Uncertain<number>;
  /** Momentum times c, for the stopping power [J]; that of minimum ionisation by default. */
  readonly momentum?: Uncertain<Energy>;
} & (
  | {
      /** Of its upper face [m²]; the die lies flat and its edges count for nothing. */
      readonly area: Uncertain<Area>;
    }
  | {
      /** Side of the die along x [m]. */
      readonly width: Uncertain<Length>;
      /** Side of the die along y [m]. */
      readonly length: Uncertain<Length>;
      /** About its width, so that its length rises from the horizontal [rad]; 0 by default. */
      readonly tilt?: Uncertain<Angle>;
    }
);

/** Muons through a die of given sides. */
export type MuonHits = read.Having<Muons, "width"> & {
  /**
   * How the energy on a given path varies: `"none"` (default), all lose the mean; `"landau"`, by Landau's
   * law with its tail cut so that the mean stays: see `landauLoss`. The likeliest energy is then about
   * 0.7 of the mean in half a millimetre.
   */
  readonly fluctuation?: "none" | "landau";
};

const length = read.quantity("length");
const common = {
  name: read.optional(read.text),
  counted: read.optional(read.oneOf("all", "above 1 GeV/c")),
  overburden: read.optional(read.quantityFromZero("length")),
  flux: read.optional(read.aboveZeroIn("1/(m^2 s)", "1/(cm^2 s)", "1/(cm^2 min)")),
  exponent: read.optional(
    read.number("a power of the cosine from 0 to 20", (n) => n >= 0 && n <= 20),
  ),
  momentum: read.optional(read.quantity("energy")),
};
const tilt = read.optional(read.quantityFromZero("angle"));
const box = { material: read.text, width: length, length, thickness: length };
const fluctuation = read.optional(read.oneOf("none", "landau"));

const muonFields = read.oneForm<Muons>()({
  area: { ...common, material: read.text, area: read.quantity("area"), thickness: length },
  width: { ...common, ...box, tilt },
});
const hitFields = read.object<MuonHits>({ ...common, ...box, tilt, fluctuation });

/** Muons as a kind of load; the die is the mount's. */
export const muonsKind: LoadKind<Omit<MuonHits, keyof typeof box>, "on the die"> = {
  fields: read.object<Omit<MuonHits, keyof typeof box>>({ ...common, tilt, fluctuation }),
  falls: "on the die",
  heat: ({ fluctuation: _, ...options }, context) =>
    muons({ ...options, ...ofMount(context) }, context.catalogue, context.field),
  hits(options, context, place) {
    const all = { ...options, ...ofMount(context) };
    const source = muonHits(all, context.catalogue, context.field);
    if (!place || !context.isMapped) return source;
    return { ...source, draw: (random) => ({ ...source.draw(random), place: place(random) }) };
  },
};

function ofMount({ name, die: { material, width, length, thickness } }: LoadContext) {
  return { name, material, width, length, thickness };
}

/**
 * Mean heat of cosmic-ray muons in a die: rate × mean path × dE/dx. With the intensity I_v cosⁿθ
 *   rate = I_v ∫ cosⁿθ A(Ω) dΩ,  A the area the die shows,  and  P = ρ S V I_v 2π/(n + 1),
 * whatever the die's shape and tilt: what it shows less of, it is longer to cross. For a thin die
 * that lies flat the mean path is (n + 2)/(n + 1) of its thickness. S is the mass stopping power of a
 * minimum-ionising particle, or of muons of a given momentum (`stoppingPower`); at their mean energy
 * of 4 GeV they lose about a fifth more in silicon, and energy carried out by fast electrons about
 * makes up for it in half a millimetre.
 * Under h metres of water (1 + h/h₀)^−γ of them are left, h₀ and γ through two measured depths; the
 * angular law is kept, as was found from 10 to 100 m of rock (Bogdanova et al., arXiv:nucl-ex/0601019).
 * Muons are the smaller part in an unshielded laboratory: see `background`.
 * Not included: altitude (twice as many at 2 km), and that muons under a hill are faster.
 * Source: Particle Data Group, Review of Particle Physics, chapters Cosmic rays and Passage of
 * particles through matter; the angular averages follow from cosⁿ.
 * @param field - path of the load in the user's description, for errors
 * @throws FieldError, UnknownNameError
 */
export function muons(
  options: Muons,
  catalogue: Catalogue = standardCatalogue(),
  field = "muons",
): HeatLoad {
  const plain = muonFields.read(options, field);
  const { name = "muons", exponent = 2 } = plain;
  const { volume, shown, provenance } = dieOf(plain, exponent, field);
  const density = catalogue.material(plain.material, `${field}.material`).constant("density");
  const stopping = stoppingOf(plain, catalogue, field);
  const vertical = verticalIntensity(plain, exponent, catalogue, field);
  const left = leftUnder(plain.overburden, catalogue, field);

  const rate = vertical.value * left.value * shown;
  const path = (volume * skySum(exponent)) / shown;
  const energy = path * density.value * stopping.value;
  return {
    name,
    power: rate * energy,
    provenance: [
      vertical.provenance,
      ...left.provenance,
      density.provenance,
      ...stopping.provenance,
      ...provenance,
    ],
    details: { "rate [1/s]": rate, "mean path [m]": path, "mean energy of a muon [J]": energy },
    warnings: [],
  };
}

/** Muons through a horizontal face, ∫ I_v cosⁿθ · cosθ dΩ = 2π/(n + 2) I_v [1/(m² s)]. */
export function horizontalFlux(verticalIntensity: number, exponent = 2): number {
  return ((2 * Math.PI) / (exponent + 2)) * verticalIntensity;
}

/** A die's volume [m³], and what it shows to a sky of cosⁿ [m² sr]. */
function dieOf(options: read.Plain<Muons>, exponent: number, field: string) {
  const { thickness } = options;
  const thick = given(`${field}: thickness`, thickness, "m");
  if ("area" in options) {
    const { area } = options;
    return {
      volume: area * thickness,
      shown: horizontalFlux(area, exponent),
      provenance: [given(`${field}: area`, area, "m^2"), thick],
    };
  }
  const { width, length, tilt = 0 } = options;
  return {
    volume: width * length * thickness,
    shown: boxSum({ width, length, thickness }, tilt, exponent),
    provenance: [
      given(`${field}: width`, width, "m"),
      given(`${field}: length`, length, "m"),
      thick,
      given(`${field}: tilt`, tilt, "rad"),
    ],
  };
}

/** Of the catalogue at minimum ionisation, or at a momentum. */
function stoppingOf(
  { material, momentum }: Pick<read.Plain<Muons>, "material" | "momentum">,
  catalogue: Catalogue,
  field: string,
): StoppingPower {
  if (momentum === undefined) {
    const least = catalogue.material(material, `${field}.material`).constant("mass_stopping_power");
    return { value: least.value, provenance: [least.provenance] };
  }
  const { value, provenance } = stoppingPower(material, momentum, catalogue, `${field}.momentum`);
  return { value, provenance: [...provenance, given(`${field}: momentum times c`, momentum, "J")] };
}

function verticalIntensity(
  { flux, counted }: Pick<read.Plain<Muons>, "flux" | "counted">,
  exponent: number,
  catalogue: Catalogue,
  field: string,
): Datum {
  if (flux !== undefined) {
    if (counted) throw new FieldError(`${field}.counted`, "none beside a flux", counted);
    const provenance = given(`${field}: flux`, flux, "1/(m^2 s)");
    return { value: flux / horizontalFlux(1, exponent), provenance };
  }
  const sample = counted ?? "all";
  return particleNumber(catalogue, "muons", "vertical_intensity", "1/(m^2 s sr)", sample);
}

/** Share of the muons left under so many metres of water. @throws FieldError deeper than was measured */
function leftUnder(depth: number | undefined, catalogue: Catalogue, field: string) {
  if (depth === undefined) return { value: 1, provenance: [] };
  const number = (parameter: string, unit: string) =>
    particleNumber(catalogue, "overburden", parameter, unit);
  const [scale, exponent] = [number("depth", "m"), number("exponent", "")];
  const deepest = number("depth_to", "m").value;
  if (depth > deepest) {
    throw new FieldError(`${field}.overburden`, `at most ${deepest} m of water`, depth);
  }
  return {
    value: (1 + depth / scale.value) ** -exponent.value,
    provenance: [
      scale.provenance,
      exponent.provenance,
      given(`${field}: overburden`, depth, "m", "as water of the same mass"),
    ],
  };
}

/**
 * Muons through a box-shaped die as hits. Directions come by cosⁿθ and by what the die shows to each at
 * its tilt, places evenly over its shadow; a hit's energy is density × stopping power × its path, or is
 * drawn about that. Rate and mean energy are those of `muons`.
 * With `exponent: 0` and a `flux`, they are the particles of least ionisation in space.
 * Source: as for `muons`; that a way meets a convex body with mean length 4 × volume / surface when all
 * directions are alike: A. Cauchy, Mém. Acad. Sci. Paris 22, 3 (1850).
 * @param field - path of the load in the user's description, for errors
 * @throws FieldError, UnknownNameError
 */
export function muonHits(
  options: MuonHits,
  catalogue: Catalogue = standardCatalogue(),
  field = "muons",
): ParticleSource {
  const { fluctuation = "none", ...plain } = hitFields.read(options, field);
  const { exponent = 2, material, tilt = 0 } = plain;
  const { name, power, details, provenance } = muons(plain, catalogue, field);
  const density = catalogue.material(material).constant("density").value;
  const stopping = stoppingOf(plain, catalogue, field).value;
  const atMomentum = () =>
    plain.momentum ?? leastLossMomentum(material, catalogue, `${field}.fluctuation`);
  const terms =
    fluctuation === "landau"
      ? ionisation(material, atMomentum(), catalogue, `${field}.momentum`)
      : undefined;
  const loss = terms ? landauLoss(density, stopping, terms) : meanLoss(density, stopping);
  const crossing = crossings(plain, tilt, exponent);
  const rate = details["rate [1/s]"]!;
  return {
    name,
    rate,
    energy: power / rate,
    draw(random) {
      const wait = random.exponential() / rate;
      const { path, x, y } = crossing(random);
      return { wait, energy: loss.draw(path, random), place: { x, y }, source: name, path };
    },
    provenance: [...provenance, ...(terms?.provenance ?? [])],
  };
}
