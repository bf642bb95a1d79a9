/**
 * Conductors side by side and end to end.
 * @module
 */
import {
  type Backing,
  type Conductor,
  type Powers,
  type PowerTerm,
  powerConductor,
  scaled,
} from "../conductor.js";
import { integrateBy } from "../numerics/quadrature.js";
import { given, givenCount } from "../provenance.js";
import { FieldError } from "../units/errors.js";

/**
 * Conductors side by side, between the same two places: G = ΣGᵢ, Θ = ΣΘᵢ. Exact.
 * @throws FieldError when none is given
 * @example parallel(powerConductor(1e-5, 2), powerConductor(1e-5, 2)).conductance(0.1) // 4e-6
 */
export function parallel(...conductors: readonly Conductor[]): Conductor {
  if (conductors.length === 1) return conductors[0]!;
  needOne("parallel", conductors);
  return {
    conductance: (T) => conductors.reduce((sum, each) => sum + each.conductance(T), 0),
    integral: (T) => conductors.reduce((sum, each) => sum + each.integral(T), 0),
    ...addedUp(conductors),
  };
}

/** What laws that add up have beside their functions: their powers, where all have them. */
export function addedUp(laws: readonly (Powers & Backing)[]): Powers & Backing {
  const upTo = lowestEnd(laws);
  const backed = backing(laws);
  if (!laws.every((each) => each.powers)) return backed;
  return {
    powers: gathered(laws.flatMap((each) => each.powers!)),
    ...(upTo < Infinity && { powersUpTo: upTo }),
    ...backed,
  };
}

/**
 * Conductors end to end.
 *
 * Where each Θ is one power cᵢTᵖ with the same p, the chain is exact: c = 1/Σ(1/cᵢ).
 * Otherwise this is the small-drop form: G(T) = 1/Σ(1/Gᵢ(T)) with all members at one temperature,
 * and Θ its integral. For two members with G ∝ Tᵐ and Tⁿ and a drop ΔT its heat is off by at most
 * the fraction |m − n|/8 · ΔT/T, to first order; a network with a node between the members is exact.
 * @throws FieldError when none is given
 * @example series(powerConductor(2e-5, 2), powerConductor(2e-5, 2)).conductance(0.1) // 2e-6
 */
export function series(...conductors: readonly Conductor[]): Conductor {
  if (conductors.length === 1) return conductors[0]!;
  needOne("series", conductors);
  const conductance = (T: number) =>
    1 / conductors.reduce((sum, each) => sum + 1 / each.conductance(T), 0);

  const exponent = commonExponent(conductors);
  if (exponent === undefined) {
    return { conductance, integral: integralFromZero(conductance), ...backing(conductors) };
  }
  const coefficient =
    1 / conductors.reduce((sum, each) => sum + 1 / each.powers![0]!.coefficient, 0);
  const power = powerConductor(coefficient, exponent, backing(conductors));
  const upTo = lowestEnd(conductors);
  if (upTo === Infinity) return power;
  const above = integralFrom(upTo, power.integral(upTo), conductance);
  return {
    powersUpTo: upTo,
    ...power,
    conductance: (T) => (T <= upTo ? power.conductance(T) : conductance(T)),
    integral: (T) => (T <= upTo ? power.integral(T) : above(T)),
  };
}

/**
 * `count` of the same conductor side by side. Need not be whole: a search for a size passes through
 * fractions.
 * @throws FieldError when the count is not a number greater than 0
 */
export function times(conductor: Conductor, count: number): Conductor {
  if (!(Number.isFinite(count) && count > 0)) {
    throw new FieldError("count", "a number greater than 0", count);
  }
  return count === 1 ? conductor : scaled(conductor, count);
}

/**
 * `count` joints alike side by side, with the numbers that the user gave of one in its provenance.
 * @param field - path of the joint in the user's description
 * @param numbers - what each is, its value, its SI unit, and a note on it
 */
export function alike(
  field: string,
  count: number | undefined,
  one: Conductor,
  numbers: readonly (readonly [what: string, value: number, unit: string, note?: string])[],
): Conductor {
  const provenance = [
    ...(one.provenance ?? []),
    ...numbers.map(([what, ...rest]) => given(`${field}: ${what}`, ...rest)),
    ...givenCount(field, count ?? 1),
  ];
  return times({ ...one, provenance }, count ?? 1);
}

function needOne(field: string, conductors: readonly Conductor[]): void {
  if (conductors.length === 0) throw new FieldError(field, "at least one conductor", conductors);
}

/** Up to where the powers of all members hold. */
function lowestEnd(conductors: readonly Powers[]): number {
  return Math.min(...conductors.map((each) => each.powersUpTo ?? Infinity));
}

function commonExponent(conductors: readonly Conductor[]): number | undefined {
  const exponent = conductors[0]!.powers?.[0]?.exponent;
  return conductors.every(({ powers }) => powers?.length === 1 && powers[0]!.exponent === exponent)
    ? exponent
    : undefined;
}

/** Terms of the same exponent added up. */
function gathered(terms: readonly PowerTerm[]): PowerTerm[] {
  const coefficients = new Map<number, number>();
  for (const { coefficient, exponent } of terms) {
    coefficients.set(exponent, (coefficients.get(exponent) ?? 0) + coefficient);
  }
  return [...coefficients].map(([exponent, coefficient]) => ({ coefficient, exponent }));
}

function backing(conductors: readonly Backing[]): Backing {
  return {
    ranges: conductors.flatMap((each) => each.ranges ?? []),
    provenance: conductors.flatMap((each) => each.provenance ?? []),
  };
}

/** Below this temperature [K] a chain's G is continued as the power law it has there. */
const floor = 1e-5;
const panelsPerDecade = 6;

/** ∫₀ᵀ G dT. Sums of whole panels, even in log T, are kept, so that a call costs one panel. */
function integralFromZero(conductance: (T: number) => number): (T: number) => number {
  const atFloor = conductance(floor);
  const slope = Math.log2(atFloor / conductance(floor / 2));
  const exponent = Number.isFinite(slope) ? slope + 1 : 1;
  const below = (T: number) => (atFloor * floor * (T / floor) ** exponent) / exponent;
  const above = integralFrom(floor, below(floor), conductance);
  return (T) => (T <= floor ? below(T) : above(T));
}

function integralFrom(
  start: number,
  startValue: number,
  conductance: (T: number) => number,
): (T: number) => number {
  const edge = (panel: number) => start * 10 ** (panel / panelsPerDecade);
  const sums = [startValue];
  return (T) => {
    const panel = Math.floor(panelsPerDecade * Math.log10(T / start));
    // A trial temperature without bound must not fill the memory; 240 panels are 40 decades.
    const last = Math.min(Math.max(panel, 0), 240);
    for (let k = sums.length; k <= last; k++) {
      sums.push(sums[k - 1]! + integrateBy(conductance, edge(k - 1), edge(k), 8));
    }
    return sums[last]! + integrateBy(conductance, edge(last), T, 8);
  };
}
