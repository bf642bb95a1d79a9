/**
 * Nonlinear least squares: parameters that make a sum of squared residuals smallest.
 *
 * Levenberg's and Marquardt's method. Each step v solves (JᵀJ + λD²)v = −Jᵀr through QR of J over √λD,
 * with D the largest norms that the columns of J have had, so that the units of the parameters do not
 * matter; it is bent by half of what solves the same with the residuals' second derivative along v in
 * place of r, and refused where it would bend much. λ follows how well the linear model foretold the
 * change. Steps that do not lower the sum, or leave the model's domain, are taken back.
 * Sources: J. J. Moré, The Levenberg-Marquardt algorithm: implementation and theory, Lecture Notes in
 * Mathematics 630, 105 (1978); H. B. Nielsen, Damping parameter in Marquardt's method, report
 * IMM-REP-1999-05 (1999), for λ; M. K. Transtrum and J. P. Sethna, Improvements to the
 * Levenberg-Marquardt algorithm for nonlinear least-squares minimization, arXiv:1201.5885 (2012), for
 * the bend.
 * @module
 */
import { Matrix, QrDecomposition } from "ml-matrix";
import {
  columnNorm,
  differences,
  evaluate,
  FitError,
  type LeastSquares,
  type Standing,
  squares,
} from "./jacobian.js";

/** The best parameters, and the derivatives of the residuals by them. */
export interface LeastSquaresFit extends Standing {
  /** Σr² */
  readonly sumOfSquares: number;
  /** Steps tried. */
  readonly steps: number;
  /** Cosine of the largest angle short of a right one between the residuals and what a parameter does. */
  readonly slope: number;
}

const epsilon = Number.EPSILON;
/** A step this short, in parts of the parameters as the residuals see them, ends the search. */
const stepTolerance = 1e-11;
/** Residuals this near to a right angle with what each parameter does are at their smallest. */
const slopeTolerance = 1e-12;
/** Where rounding keeps the sum from falling, this is near enough. */
const roundingTolerance = 1e-5;
/** Of the damping, in parts of D². */
const firstDamping = 1;
const largestDamping = 1e16;
/** Most that a step may bend, in parts of it, and how far along it the bend is looked at. */
const largestBend = 0.1;
const along = 0.1;
/** From here on the coarse differences are no longer fine enough to tell which way is down. */
const nearby = 1e-3;

/**
 * Fits.
 * @throws FitError when the start is outside the model's domain, or no minimum is reached
 */
export function leastSquares(problem: LeastSquares): LeastSquaresFit {
  const { count, start, maxSteps = 4000, tolerance = slopeTolerance } = problem;
  const n = start.length;
  let parameters = Float64Array.from(start);
  let residuals = new Float64Array(count);
  if (!evaluate(problem, parameters, residuals)) {
    throw new FitError(`fit: the model is not defined at the start, ${start.join(", ")}.`);
  }
  let sum = squares(residuals);
  let jacobian = differences(problem, { parameters, residuals });
  const coarseWillDo = tolerance >= 1e-8;
  const isSparing = problem.sparing === true && coarseWillDo;
  let isFine = false;
  const refine = () => {
    jacobian = differences(problem, { parameters, residuals, jacobian });
    isFine = true;
  };
  const norms = new Float64Array(n);
  let damping = problem.damping ?? firstDamping;
  let growth = 2;
  for (let steps = 0; ; ) {
    if (!isFine && !coarseWillDo && slopeOf(jacobian, residuals) < nearby) refine();
    const slope = slopeOf(jacobian, residuals);
    const done = () => ({ parameters, residuals, sumOfSquares: sum, jacobian, steps, slope });
    if ((isFine || coarseWillDo) && slope <= tolerance) return done();
    for (let j = 0; j < n; j++) norms[j] = Math.max(norms[j]!, columnNorm(jacobian, j));
    for (;;) {
      if (steps >= maxSteps) {
        throw new FitError(
          `fit: no minimum after ${steps} steps; the sum of squares is ${sum}, and residuals and ` +
            `parameters are still off a right angle by ${slope.toPrecision(2)}. Start nearer.`,
        );
      }
      steps++;
      const here = { parameters, residuals, jacobian };
      const straight = damped(jacobian, residuals, norms, damping);
      const length = weighted(straight, norms);
      const short = length <= stepTolerance * (weighted(parameters, norms) + Math.sqrt(sum));
      const foretold = sum - squares(linear(here, straight));
      const bend = isSparing
        ? new Float64Array(n)
        : bendOf(problem, here, straight, norms, damping);
      let next = Number.POSITIVE_INFINITY;
      if (bend && weighted(bend, norms) <= largestBend * length) {
        const trial = parameters.map((value, j) => value + straight[j]! + bend[j]!);
        const there = new Float64Array(count);
        if (evaluate(problem, trial, there)) next = squares(there);
        if (next < sum) {
          const gain = foretold > 0 ? (sum - next) / foretold : 1;
          [parameters, residuals, sum] = [trial, there, next];
          jacobian = differences(
            problem,
            isFine ? { parameters, residuals, jacobian } : { parameters, residuals },
          );
          damping *= Math.max(1 / 3, 1 - (2 * gain - 1) ** 3);
          growth = 2;
          if (isFine && short)
            return polished(problem, { ...done(), slope: slopeOf(jacobian, residuals) });
          break;
        }
      }
      const useless = short || foretold <= 4 * epsilon * sum;
      if (useless && coarseWillDo) return done();
      if (useless && isFine) return polished(problem, done());
      damping *= growth;
      growth *= 2;
      if ((useless || damping > largestDamping) && !isFine && !coarseWillDo) {
        // What the coarse differences can't see, the fine ones may.
        refine();
        [damping, growth] = [firstDamping, 2];
        break;
      }
      if (damping > largestDamping) {
        if (slope < Math.max(tolerance, roundingTolerance)) return done();
        throw new FitError(
          `fit: no step lowers the sum of squares, ${sum}, though it is not at a minimum ` +
            `(${slope.toPrecision(2)} off). The model may jump, or leave its domain, near ` +
            `${[...parameters].join(", ")}.`,
        );
      }
    }
  }
}

/**
 * Steps of Gauss and Newton from where the sum of squares no longer shows a change, as long as they
 * bring residuals and parameters nearer to a right angle.
 */
function polished(problem: LeastSquares, fit: LeastSquaresFit): LeastSquaresFit {
  const norms = Float64Array.from(fit.parameters, (_, j) => columnNorm(fit.jacobian, j));
  const step = damped(fit.jacobian, fit.residuals, norms, epsilon);
  const parameters = fit.parameters.map((value, j) => value + step[j]!);
  const residuals = new Float64Array(problem.count);
  if (!evaluate(problem, parameters, residuals)) return fit;
  const sumOfSquares = squares(residuals);
  if (sumOfSquares > fit.sumOfSquares * (1 + 1e-10)) return fit;
  const jacobian = differences(problem, { parameters, residuals, jacobian: fit.jacobian });
  const slope = slopeOf(jacobian, residuals);
  if (!(slope < 0.5 * fit.slope)) return fit;
  const better = { ...fit, parameters, residuals, sumOfSquares, jacobian, slope };
  return slope <= slopeTolerance ? better : polished(problem, better);
}

/** Largest |Jⱼ·r|/(|Jⱼ| |r|): 0 at a minimum. */
function slopeOf(jacobian: readonly Float64Array[], residuals: Float64Array): number {
  const length = Math.sqrt(squares(residuals));
  if (length === 0) return 0;
  let largest = 0;
  for (let j = 0; j < jacobian[0]!.length; j++) {
    const norm = columnNorm(jacobian, j);
    if (norm === 0) continue;
    let dot = 0;
    for (let i = 0; i < residuals.length; i++) dot += jacobian[i]![j]! * residuals[i]!;
    largest = Math.max(largest, Math.abs(dot) / (norm * length));
  }
  return largest;
}

/** −(JᵀJ + λD²)⁻¹Jᵀ times a vector. */
function damped(
  jacobian: readonly Float64Array[],
  vector: Float64Array,
  norms: Float64Array,
  damping: number,
): Float64Array {
  const n = norms.length;
  const root = Math.sqrt(damping);
  const rows = jacobian.map((row) => Array.from(row, (value, j) => value / (norms[j]! || 1)));
  for (let j = 0; j < n; j++) {
    rows.push(Array.from({ length: n }, (_, k) => (j === k ? root : 0)));
  }
  const right = [...Array.from(vector, (r) => -r), ...new Array<number>(n).fill(0)];
  const scaled = new QrDecomposition(new Matrix(rows)).solve(Matrix.columnVector(right));
  return Float64Array.from(norms, (norm, j) => scaled.get(j, 0) / (norm || 1));
}

/** What bends a step: −½(JᵀJ + λD²)⁻¹Jᵀr″; undefined where the model ends before the step does. */
function bendOf(
  problem: LeastSquares,
  here: Standing,
  straight: Float64Array,
  norms: Float64Array,
  damping: number,
): Float64Array | undefined {
  const there = new Float64Array(problem.count);
  const onTheWay = here.parameters.map((value, j) => value + along * straight[j]!);
  if (!evaluate(problem, onTheWay, there)) return undefined;
  const whole = linear(here, straight);
  const second = there.map((r, i) => {
    const slope = whole[i]! - here.residuals[i]!;
    return ((r - here.residuals[i]!) / along - slope) / along;
  });
  return damped(here.jacobian, second, norms, damping);
}

/** Residuals after a step, if the model were linear. */
function linear({ jacobian, residuals }: Standing, step: Float64Array): Float64Array {
  return residuals.map((r, i) => jacobian[i]!.reduce((sum, slope, j) => sum + slope * step[j]!, r));
}

/** Length of a step as the residuals see it. */
function weighted(step: Float64Array, norms: Float64Array): number {
  return Math.hypot(...step.map((value, j) => value * norms[j]!));
}
