/**
 * How long the next step in time may be.
 *
 * The error is a factor times a power of the step, and the change of that factor from one step to the next
 * is extrapolated: the predictive controller of Gustafsson, Control-theoretic techniques for stepsize
 * selection in implicit Runge-Kutta methods, ACM Trans. Math. Softw. 20, 496 (1994), in the form of Hairer
 * and Wanner, Solving Ordinary Differential Equations II (1996), eq. IV.8.24.
 * @module
 */

/** Bounds of a change of the step, and the part of the predicted step that is taken. */
const largestGrowth = 6;
const largestShrinkage = 0.2;
const caution = 0.9;
/** Part of a step that is tried next where its end has no temperatures. */
const afterFailure = 0.1;
/** Errors below these parts of what is allowed do not predict the next. */
const leastError = 1e-6;
const leastErrorBefore = 0.01;

/** The steps of one segment of time between breaks. */
export class StepControl {
  /** Steps rejected since the last one taken. */
  trials = 0;
  #lastStep = 0;
  #lastError = 1;
  readonly #exponent: number;

  /** @param order - power of the step with which its error grows */
  constructor(order: number) {
    this.#exponent = 1 / order;
  }

  /** A shorter step for one whose error, in parts of what is allowed, was above 1 or infinite. */
  shorter(step: number, error: number): number {
    this.trials++;
    if (!Number.isFinite(error)) return afterFailure * step;
    return step * Math.max(largestShrinkage, caution * error ** -this.#exponent);
  }

  /** The step after one that was taken. */
  next(step: number, error: number): number {
    const worth = Math.max(error, leastError);
    let growth = caution * worth ** -this.#exponent;
    if (this.#lastStep > 0) {
      const change = (step / this.#lastStep) * (this.#lastError / worth ** 2) ** this.#exponent;
      growth = Math.min(growth, caution * change);
    }
    growth = Math.min(largestGrowth, Math.max(largestShrinkage, growth));
    // The step after a rejected one is not lengthened.
    if (this.trials > 0) growth = Math.min(1, growth);
    this.trials = 0;
    this.#lastStep = step;
    this.#lastError = Math.max(leastErrorBefore, worth);
    return step * growth;
  }
}
