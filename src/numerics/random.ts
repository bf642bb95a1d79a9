/**
 * Seeded random numbers: one seed, one result, on every machine.
 * @module
 */
import { xoroshiro128plusFromState } from "pure-rand/generator/xoroshiro128plus";
import { FieldError } from "../units/errors.js";

/** A stream of random numbers; each call moves on along it. */
export interface Random {
  /** Evenly between 0 and 1, neither of which comes: (k + ½)/2⁵² with whole k. */
  uniform(): number;
  /** Of mean 0 and variance 1. */
  normal(): number;
  /** Of mean 1: the waiting time of a Poisson process of rate 1. */
  exponential(): number;
  /** A whole number from 0 to `count` − 1, each as likely. */
  below(count: number): number;
}

/**
 * The stream of a seed; other numbers of `stream` give independent streams of the same seed.
 *
 * xoroshiro128+, whose period is 2¹²⁸ − 1, from a state in which seed and stream are well mixed: no two
 * pairs share a state, and that two streams of n numbers overlap has a chance of about n/2¹²⁷.
 * `uniform` is the same to the last bit everywhere; the others also call the engine's logarithm, and
 * how far they move the stream does not depend on it.
 * Source: D. Blackman and S. Vigna, Scrambled linear pseudorandom number generators, ACM Trans. Math.
 * Softw. 47, 36 (2021); normal numbers by G. Marsaglia and T. A. Bray, A convenient method for
 * generating normal variables, SIAM Rev. 6, 260 (1964).
 * @param seed - whole number from 0 to 2⁵³ − 1
 * @param stream - whole number from 0 to 2⁵³ − 1, 0 by default
 * @throws FieldError
 */
export function random(seed: number, stream = 0): Random {
  const generator = xoroshiro128plusFromState(
    mixed([...halves("seed", seed), ...halves("stream", stream)]),
  );
  const uniform = () => {
    const high = generator.next() >>> 6;
    const low = generator.next() >>> 6;
    return (high * 2 ** 26 + low + 0.5) / 2 ** 52;
  };
  let spare: number | undefined;
  return {
    uniform,
    normal() {
      if (spare !== undefined) {
        const value = spare;
        spare = undefined;
        return value;
      }
      for (;;) {
        const [x, y] = [2 * uniform() - 1, 2 * uniform() - 1];
        const square = x * x + y * y;
        if (square >= 1) continue;
        const factor = Math.sqrt((-2 * Math.log(square)) / square);
        spare = factor * y;
        return factor * x;
      }
    },
    exponential: () => -Math.log(uniform()),
    below: (count) => Math.floor(uniform() * count),
  };
}

/** The two halves of a whole number, 32 bits each. */
function halves(field: string, value: number): [number, number] {
  if (Number.isSafeInteger(value) && value >= 0) {
    return [(value % 2 ** 32) | 0, Math.floor(value / 2 ** 32) | 0];
  }
  throw new FieldError(field, "a whole number from 0 to 9007199254740991", value);
}

/**
 * Four words stirred in rounds that can be undone, so that no two sets of words end alike.
 * A word's change spreads to all others in four rounds; twelve are done.
 */
function mixed(words: readonly number[]): number[] {
  const state = [...words];
  for (let round = 0; round < 12; round++) {
    const [to, from] = [round % 4, (round + 3) % 4];
    state[to] = state[to]! ^ scrambled((state[from]! + Math.imul(round + 1, 0x9e3779b9)) | 0);
  }
  return state;
}

/** The finishing steps of MurmurHash3 (A. Appleby): every bit depends on every bit. */
function scrambled(word: number): number {
  let h = word;
  h = Math.imul(h ^ (h >>> 16), 0x85ebca6b);
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
  return h ^ (h >>> 16);
}
