/**
 * Derivatives of residuals by parameters, from differences, and how well they determine the parameters.
 * @module
 */
import { Matrix, SingularValueDecomposition } from "ml-matrix";

/** What to make small. */
export interface LeastSquares {
  /** How many residuals. */
  readonly count: number;
  readonly start: readonly number[];
  /**
   * A length over which each parameter changes the residuals noticeably, for the differences that stand
   * for derivatives; the size of the starting value, or 1 for 0, when absent.
   */
  readonly scales?: readonly number[];
  /**
   * Writes the residuals at the parameters.
   * @returns whether the model is defined there
   */
  residuals(parameters: Float64Array, into: Float64Array): boolean;
  /** Most steps tried; 4000 when absent. */
  readonly maxSteps?: number;
  /**
   * Where to end: |Jⱼ·r|/(|Jⱼ| |r|) at most this. 1e-12 when absent, which takes derivatives of fourth
   * order; from 1e-8 up those of second order do, and the parameters are off by so much of their standard
   * deviations, times |r|.
   */
  readonly tolerance?: number;
  /** λ of the first step; 1 when absent, less where the start is near. */
  readonly damping?: number;
  /**
   * Whether the start is so near, and each call so expensive, that one-sided differences and steps that are
   * not bent will do; counts where the tolerance is 1e-8 or more.
   */
  readonly sparing?: boolean;
}

/** No best parameters were found. */
export class FitError extends Error {
  override readonly name = "FitError";
}

/** Where a search stands. */
export interface Standing {
  readonly parameters: Float64Array;
  readonly residuals: Float64Array;
  /** ∂r/∂parameter, row by row. */
  readonly jacobian: readonly Float64Array[];
}

const epsilon = Number.EPSILON;
/** Steps of differences of second and fourth order, in scales: truncation and rounding about equal. */
const coarse = epsilon ** (1 / 3);
const fine = epsilon ** (1 / 5);
/** Residuals, and whether all of them are numbers. */
export function evaluate(problem: LeastSquares, at: Float64Array, into: Float64Array): boolean {
  return problem.residuals(at, into) && into.every(Number.isFinite);
}

/** Sum of squares. */
export function squares(vector: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 0; i < vector.length; i++) sum += vector[i]! ** 2;
  return sum;
}

/**
 * J by central differences, of fourth order where a coarse J is there to tell how far to look: a tenth
 * of a parameter's spread, over which the model is sure to be smooth. One-sided where it ends.
 */
export function differences(
  problem: LeastSquares,
  { parameters, residuals, jacobian: coarser }: Partial<Standing> & Omit<Standing, "jacobian">,
): Float64Array[] {
  const { count, scales, sparing = false, tolerance = 0 } = problem;
  const oneSided = sparing && tolerance >= 1e-8;
  const n = parameters.length;
  const jacobian = Array.from({ length: count }, () => new Float64Array(n));
  const spreads = coarser && spreadsOf(coarser, residuals);
  const at = Float64Array.from(parameters);
  const look = (j: number, by: number) => {
    at[j] = parameters[j]! + by;
    const there = new Float64Array(count);
    const defined = evaluate(problem, at, there);
    at[j] = parameters[j]!;
    return defined ? there : undefined;
  };
  for (let j = 0; j < n; j++) {
    const scale = scales?.[j] ?? (Math.abs(parameters[j]!) || 1);
    const wanted = spreads
      ? Math.min(fine * scale, Math.max(coarse * scale, 0.1 * spreads[j]!))
      : coarse * scale;
    // What is added to a parameter must be what is divided by.
    const h = parameters[j]! + wanted - parameters[j]!;
    const up = look(j, h);
    const down = oneSided && up ? undefined : look(j, -h);
    const [far, near] = spreads ? [look(j, 2 * h), look(j, -2 * h)] : [undefined, undefined];
    if (!up && !down) {
      throw new FitError(`fit: the model is not defined beside ${[...parameters].join(", ")}.`);
    }
    for (let i = 0; i < count; i++) {
      const here = residuals[i]!;
      if (!up || !down) jacobian[i]![j] = up ? (up[i]! - here) / h : (here - down![i]!) / h;
      else {
        const slope = (up[i]! - down[i]!) / (2 * h);
        jacobian[i]![j] = far && near ? (4 * slope - (far[i]! - near[i]!) / (4 * h)) / 3 : slope;
      }
    }
  }
  return jacobian;
}

/** Standard deviations of the parameters, as the residuals have it; infinite where they can't tell. */
function spreadsOf(jacobian: readonly Float64Array[], residuals: Float64Array): number[] {
  const variance = squares(residuals) / Math.max(1, residuals.length - jacobian[0]!.length);
  return determination(jacobian).covariance.map((row, j) => {
    const spread = Math.sqrt(variance * row[j]!);
    return Number.isNaN(spread) ? Number.POSITIVE_INFINITY : spread;
  });
}

/** Norm of a column of J. */
export function columnNorm(jacobian: readonly Float64Array[], j: number): number {
  let sum = 0;
  for (const row of jacobian) sum += row[j]! ** 2;
  return Math.sqrt(sum);
}

/** How well a fit's residuals fix its parameters. */
export interface Determination {
  /** (JᵀJ)⁻¹: the covariance for residuals of variance 1. */
  readonly covariance: readonly Float64Array[];
  /** Norms of the columns of J. */
  readonly norms: Float64Array;
  /** Singular values of J with its columns scaled to norm 1, largest first: all 1 when each
   * parameter does something of its own, 0 when some do the same. */
  readonly singularValues: readonly number[];
  /** For each singular value, in which proportion the scaled parameters move. */
  readonly directions: readonly (readonly number[])[];
}

/**
 * Covariance and singular values, through the singular value decomposition of J.
 * Where a singular value is 0 the covariance is infinite.
 */
export function determination(jacobian: readonly Float64Array[]): Determination {
  const n = jacobian[0]!.length;
  const norms = Float64Array.from({ length: n }, (_, j) => columnNorm(jacobian, j));
  const rows = jacobian.map((row) => Array.from(row, (value, j) => value / (norms[j]! || 1)));
  while (rows.length < n) rows.push(new Array<number>(n).fill(0));
  const { diagonal, rightSingularVectors: right } = new SingularValueDecomposition(
    new Matrix(rows),
  );
  const directions = diagonal.map((_, k) => Array.from({ length: n }, (_, j) => right.get(j, k)));
  const covariance = Array.from({ length: n }, (_, i) =>
    Float64Array.from({ length: n }, (_, j) =>
      diagonal.reduce((sum, s, k) => {
        const part = directions[k]![i]! * directions[k]![j]!;
        return part === 0 ? sum : sum + part / (s * s * norms[i]! * norms[j]!);
      }, 0),
    ),
  );
  return { covariance, norms, singularValues: diagonal, directions };
}
