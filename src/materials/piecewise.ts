/**
 * Laws that each hold between two temperatures, joined to one κ(T) with a continuous integral.
 * @module
 */
import type { Powers } from "../conductor.js";
import { runningIntegral } from "../numerics/chebyshev.js";
import type { Curve } from "./form.js";

/** One law between two temperatures [K]. */
export interface Piece {
  readonly from: number;
  readonly to: number;
  readonly curve: Curve;
}

/** κ(T) and ∫₀ᵀ κ dT over all temperatures above zero. */
export interface JoinedLaw extends Powers {
  value(temperature: number): number;
  integral(temperature: number): number;
}

/** ∫ of a law from the low end of its piece. */
type FromLowEnd = (temperature: number) => number;

/** A piece, or the extrapolation beyond one end. */
interface Part {
  readonly to: number;
  readonly value: Curve["value"];
  readonly integral: FromLowEnd;
}

/**
 * Joins pieces that adjoin. Outside them the law is extrapolated as the power of T that it has at its
 * end, so that a solver's trial temperatures give a number; the ranges of the law say whether a result
 * may lie there.
 * @param below - exponent below the lowest piece; the slope of its end when not given
 */
export function join(pieces: readonly Piece[], below?: number): JoinedLaw {
  const first = pieces[0]!;
  const last = pieces[pieces.length - 1]!;
  // Most laws are never asked above their range.
  let made: ReturnType<typeof endPower> | undefined;
  const upper = () => {
    made ??= endPower(last.curve, last.to, -2, 3);
    return made;
  };
  const parts: readonly Part[] = [
    ...(first.from === 0
      ? []
      : [{ to: first.from, ...endPower(first.curve, first.from, 0, 4, below) }]),
    ...pieces.map((piece) => ({
      to: piece.to,
      value: piece.curve.value,
      integral: fromLowEnd(piece),
    })),
    {
      to: Number.POSITIVE_INFINITY,
      value: (T: number) => upper().value(T),
      integral: (T: number) => upper().integral(T) - upper().integral(last.to),
    },
  ];

  const find = (T: number) => {
    let i = 0;
    while (T > parts[i]!.to) i++;
    return i;
  };
  // Integral up to the low end of each part, found when the part is first asked for.
  const before: number[] = [0];
  const sumBefore = (i: number): number => {
    for (let k = before.length; k <= i; k++) {
      before.push(before[k - 1]! + parts[k - 1]!.integral(parts[k - 1]!.to));
    }
    return before[i]!;
  };

  return {
    value: (T) => parts[find(T)]!.value(T),
    integral(T) {
      if (T === 0) return 0;
      const i = find(T);
      return sumBefore(i) + parts[i]!.integral(T);
    },
    ...powersOf(pieces, below),
  };
}

/** The powers of the first piece, where they hold from zero temperature up. */
function powersOf(pieces: readonly Piece[], below: number | undefined) {
  const { curve, from, to } = pieces[0]!;
  const { powers } = curve;
  const single = powers?.length === 1 ? powers[0]!.exponent - 1 : undefined;
  // Whether the extrapolation below a pure power is that same power.
  const goesOn = below === undefined ? single! >= 0 && single! <= 4 : single === below;
  const fromZero = from === 0 || goesOn;
  if (!powers || !fromZero) return {};
  const forever = pieces.length === 1 && single !== undefined && single <= 3 && single >= -2;
  return forever ? { powers } : { powers, powersUpTo: to };
}

/** κ as a power through a law's end, the exponent held between two bounds. */
function endPower(curve: Curve, at: number, least: number, most: number, given?: number) {
  const value = curve.value(at);
  let exponent = given;
  if (exponent === undefined) {
    const [single] = curve.powers?.length === 1 ? curve.powers : [];
    exponent = single ? single.exponent - 1 : slope(curve, at);
    exponent = Math.min(most, Math.max(least, exponent));
  }
  const n = exponent;
  const integral =
    n === -1
      ? (T: number) => value * at * Math.log(T / at)
      : (T: number) => ((value * at) / (n + 1)) * (T / at) ** (n + 1);
  return { value: (T: number) => value * (T / at) ** n, integral };
}

/** d ln κ / d ln T at an end, from outside and inside alike. */
function slope(curve: Curve, at: number): number {
  const h = 1e-4;
  const [low, high] = [curve.value(at * (1 - h)), curve.value(at * (1 + h))];
  const found = Math.log(high / low) / Math.log((1 + h) / (1 - h));
  return Number.isFinite(found) ? found : 0;
}

function fromLowEnd({ from, to, curve }: Piece): FromLowEnd {
  const { integral, powers } = curve;
  let made: FromLowEnd | undefined;
  const make = (): FromLowEnd => {
    if (!integral) return runningIntegral(curve.value, from, to);
    const start = powers && from === 0 ? 0 : integral(from);
    return (T) => integral(T) - start;
  };
  return (T) => {
    made ??= make();
    return made(T);
  };
}
