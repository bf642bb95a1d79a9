/**
 * A mount in its nominal, its probable and its pessimistic case, quickly enough for a slider that moves.
 *
 * The probable case is that of samples, here of the two-node model of the die and few enough for a page. One
 * set of values of the unknowns stands for it: on the way on which they warm the chip the most (A. M. Hasofer
 * and N. C. Lind, J. Eng. Mech. Div. ASCE 100, 111 (1974)), so far that the two-node model is as warm as its 95 %
 * quantile. The mount's own model of the die is then solved with these values.
 * @module
 */
import { quantileOf } from "../../design/confidence/confidence.js";
import { correlate } from "../../design/confidence/correlated.js";
import type { MarginCase } from "../../design/confidence/margin.js";
import { draws } from "../../design/confidence/samples.js";
import { Inputs } from "../../design/confidence/uncertain-inputs.js";
import { type UncertainMount, uncertainMount } from "../../design/confidence/uncertain-mount.js";
import type { Catalogue } from "../../materials/types.js";
import type { Mount } from "../../mount/mount.js";
import { readMount } from "../../mount/read.js";
import { normalShare } from "../../numerics/distributions.js";
import { random } from "../../numerics/random.js";
import { z95 } from "../../units/spread.js";

/** Samples of the probable case: its quantile is then within a few parts in a hundred of the rise. */
const samples = 2048;
/** Rounds after which the way on which the chip warms the most stands still. */
const rounds = 3;
/** Step of a difference, in normal scores. */
const step = 0.05;
/** An unknown that moves the chip by less than this, of what all do, stays at its median. */
const least = 0.01;
/** How far the values of the probable case may be from the medians, in normal scores. */
const farthest = 4;

/** The cases in the order of their margins, and what a reader is told of each. */
export const caseWords: Readonly<Record<MarginCase, { label: string; note: string }>> = {
  nominal: { label: "nominal", note: "" },
  probable: {
    label: "probable (95 %, estimate)",
    // When it is shown: the first number that is written for a language takes as long as sixty modules.
    get note() {
      const many = samples.toLocaleString("en");
      return (
        `Probable case, estimated in the page by ${many} samples of the two-node model of the die: ` +
        "19 chips in 20 are cooler. The recommendation is sampled in full."
      );
    },
  },
  pessimistic: {
    label: "pessimistic",
    note: "Pessimistic case: every unknown at the worse end of its 90 % interval, all at once.",
  },
};

/** A mount and a catalogue with the unknowns at the values of a case. */
export interface CaseSample {
  readonly mount: Mount;
  readonly catalogue: Catalogue;
}

/** Finds cases; what the first mount showed of the catalogue serves for the others like it. */
export class CaseFinder {
  constructor(
    readonly catalogue: Catalogue,
    /** Uncertain rows of the catalogue that move the mount; all are searched when absent. */
    readonly rows: readonly string[] | "all" = "all",
  ) {}

  /** Uncertain rows that move a mount; undefined where nothing of it is uncertain, so that all cases are one. */
  uncertainRows(mount: Mount): readonly string[] | undefined {
    const { inputs, recipe } = this.#compiled(mount);
    return inputs.length > 0 ? recipe.rows : undefined;
  }

  /** @throws as `uncertainMount` */
  at(mount: Mount, wanted: MarginCase): CaseSample {
    const { catalogue } = this;
    if (wanted === "nominal") return { mount, catalogue };
    const compiled = this.#compiled(mount);
    const find = wanted === "probable" ? probableValues : pessimisticValues;
    const inputs = new Inputs(compiled.inputs, readMount(mount), catalogue);
    const sample = inputs.at(find(compiled, warmthIn(mount)));
    return { mount: sample.mount as Mount, catalogue: sample.catalogue };
  }

  #compiled(mount: Mount): UncertainMount {
    const { catalogue, rows } = this;
    return uncertainMount(mount, { catalogue, rows, die: "two nodes" });
  }
}

type Warmth = (of: ReturnType<UncertainMount["evaluate"]>) => number;

/** What is to be small: the chip above its limit, or above the stage where there is no limit [K]. */
function warmthIn({ limit }: Mount): Warmth {
  return limit ? ({ margin }) => -margin : ({ chip, stage }) => chip - stage;
}

function pessimisticValues(of: UncertainMount, warmth: Warmth): Float64Array {
  return Float64Array.from(of.inputs, ({ low, high, median }, i) => {
    const at = (value: number) => {
      const values = of.medians.slice();
      values[i] = value;
      return warmth(of.evaluate(values));
    };
    const [first, last] = [at(low), at(high)];
    return first > last ? low : last > first ? high : median;
  });
}

function probableValues(of: UncertainMount, warmth: Warmth): Float64Array {
  const sampled = new Float64Array(samples);
  let n = 0;
  for (const values of draws(of, samples, random(1))) sampled[n++] = warmth(of.evaluate(values));
  const wanted = quantileOf(sampled.sort(), 0.95);
  const valuesAt = (scores: Float64Array) => {
    const shares = scores.map(normalShare);
    correlate(shares, of.together);
    return shares.map((share, i) => of.inputs[i]!.quantile(share));
  };
  const at = (scores: Float64Array) => warmth(of.evaluate(valuesAt(scores)));
  let way = new Float64Array(of.inputs.length);
  for (let round = 0; round < rounds; round++) {
    const scores = way.map((part) => z95 * part);
    const slopes = scores.map((_, i) => {
      const moved = (by: number) => at(scores.map((score, k) => (k === i ? score + by : score)));
      return (moved(step) - moved(-step)) / (2 * step);
    });
    const length = Math.hypot(...slopes);
    // Without a steady state there is no slope: the last way stands.
    if (!(length > 0 && Number.isFinite(length))) break;
    // What hardly moves the chip stays at its median.
    way = slopes.map((slope) => (Math.abs(slope) < least * length ? 0 : slope / length));
  }
  let [near, far] = [0, farthest];
  for (let halving = 0; halving < 30; halving++) {
    const middle = (near + far) / 2;
    if (at(way.map((part) => middle * part)) < wanted) near = middle;
    else far = middle;
  }
  return valuesAt(way.map((part) => far * part));
}
