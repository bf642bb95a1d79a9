import { inverse, Matrix } from "ml-matrix";
import { describe, expect, it } from "vitest";
import { rodas5p } from "../../src/numerics/rosenbrock.js";

/**
 * The method in the variables k of Hairer and Wanner, eq. IV.7.4: Γ = (1/γ − C)⁻¹, α = aΓ, b = mΓ,
 * with m = (aₛ, 1) for the solution and aₛ for the embedded one.
 */
function classic({ stages: s, gamma, a, c }: typeof rodas5p) {
  const square = (entries: Float64Array) => Matrix.from1DArray(s, s, Array.from(entries));
  const Gamma = inverse(Matrix.eye(s, s, 1 / gamma).sub(square(c)));
  const A = square(a);
  const embedded = Matrix.rowVector(A.getRow(s - 1));
  const m = embedded.clone();
  m.set(0, s - 1, 1);
  const alpha = A.mmul(Gamma);
  return {
    alpha,
    Gamma,
    beta: Matrix.add(alpha, Gamma),
    b: m.mmul(Gamma).getRow(0),
    bEmbedded: embedded.mmul(Gamma).getRow(0),
    alphas: alpha.to2DArray().map((row) => row.reduce((x, y) => x + y, 0)),
    gammas: Gamma.to2DArray().map((row) => row.reduce((x, y) => x + y, 0)),
  };
}

/** A rooted tree as the list of the trees that hang on its root. */
type Tree = readonly Tree[];

/** Every rooted tree of n vertices once. */
function trees(n: number): Tree[] {
  // Forests of n vertices whose trees come in an order: at most of `largest` vertices, then by place.
  const forests = (left: number, largest: number, place: number): Tree[][] => {
    if (left === 0) return [[]];
    const found: Tree[][] = [];
    for (let size = Math.min(left, largest); size >= 1; size--) {
      trees(size).forEach((tree, at) => {
        if (size === largest && at > place) return;
        for (const rest of forests(left - size, size, at)) found.push([tree, ...rest]);
      });
    }
    return found;
  };
  return n === 1 ? [[]] : forests(n - 1, n - 1, Number.POSITIVE_INFINITY);
}

const size = (tree: Tree): number => 1 + tree.reduce((sum, t) => sum + size(t), 0);
const density = (tree: Tree): number => tree.reduce((d, t) => d * density(t), size(tree));

describe.each([["Rodas5P", rodas5p, 5, 4, 17]] as const)(
  "%s",
  (_, method, order, embeddedOrder, conditions) => {
    const { alpha, Gamma, beta, b, bEmbedded, alphas, gammas } = classic(method);
    const s = method.stages;

    // Hairer and Wanner, theorem IV.7.3: a vertex with one branch counts β, with more than one α.
    const weights = (tree: Tree): number[] => {
      if (tree.length === 0) return new Array<number>(s).fill(1);
      const along = tree.length === 1 ? beta : alpha;
      return tree
        .map((branch) => along.mmul(Matrix.columnVector(weights(branch))).getColumn(0))
        .reduce((product, factor) => product.map((x, i) => x * factor[i]!));
    };
    const sum = (by: readonly number[], tree: Tree) =>
      weights(tree).reduce((total, w, i) => total + w * by[i]!, 0);

    it("meets every condition of its order, and its embedded solution those of one less.", () => {
      const all = [1, 2, 3, 4, 5].filter((n) => n <= order).flatMap(trees);
      expect(all).toHaveLength(conditions);
      for (const tree of all) {
        expect(Math.abs(sum(b, tree) - 1 / density(tree)), JSON.stringify(tree)).toBeLessThan(
          2e-13,
        );
        if (size(tree) > embeddedOrder) continue;
        expect(Math.abs(sum(bEmbedded, tree) - 1 / density(tree))).toBeLessThan(2e-13);
      }
      // One more order would need trees that it does not meet.
      const more = trees(order + 1).map((tree) => Math.abs(sum(b, tree) - 1 / density(tree)));
      expect(Math.max(...more)).toBeGreaterThan(1e-4);
    });

    it("states the sums of its α and γ, and the same γ on the whole diagonal.", () => {
      alphas.forEach((sum, i) => {
        expect(sum).toBeCloseTo(method.alpha[i]!, 12);
      });
      gammas.forEach((sum, i) => {
        expect(sum).toBeCloseTo(method.gammas[i]!, 12);
      });
      for (let i = 0; i < s; i++) expect(Gamma.get(i, i)).toBeCloseTo(method.gamma, 14);
    });

    it("forgets an infinitely fast decay in one step, as does its embedded solution.", () => {
      // R(∞) = 1 − b β⁻¹ 1
      const ones = inverse(beta).mmul(Matrix.ones(s, 1)).getColumn(0);
      expect(ones.reduce((r, x, i) => r - b[i]! * x, 1)).toBeCloseTo(0, 12);
      expect(ones.reduce((r, x, i) => r - bEmbedded[i]! * x, 1)).toBeCloseTo(0, 12);
    });

    it("meets the conditions of index 1 for algebraic equations up to order 3.", () => {
      // Hairer and Wanner, VI.4: bᵢ ωᵢⱼ αⱼ² = 1, and with cubes, and with branches, ω = β⁻¹
      const omega = Matrix.rowVector(b).mmul(inverse(beta)).getRow(0);
      const with_ = (values: readonly number[]) => values.reduce((t, v, i) => t + v * omega[i]!, 0);
      expect(with_(alphas.map((x) => x ** 2))).toBeCloseTo(1, 11);
      expect(with_(alphas.map((x) => x ** 3))).toBeCloseTo(1, 11);
    });

    it("gives a dense output that is exact for polynomials of its order, in time.", () => {
      // y′ = n tⁿ⁻¹: stage i of U is (Γ k)ᵢ with kᵢ = n αᵢⁿ⁻¹ + γᵢ n (n − 1) t₀ⁿ⁻² at t₀ = 0, h = 1
      for (let n = 1; n < order; n++) {
        const k = alphas.map((x, i) => n * x ** (n - 1) + (n === 2 ? 2 * gammas[i]! : 0));
        const U = Gamma.mmul(Matrix.columnVector(k)).getColumn(0);
        const K = [0, 1, 2].map((v) => U.reduce((t, u, i) => t + method.dense[v * s + i]! * u, 0));
        for (const at of [0.1, 0.35, 0.5, 0.8]) {
          const inner = K.reduceRight((tail, value) => value + at * tail, 0);
          expect(at * (1 + (1 - at) * inner)).toBeCloseTo(at ** n, 11);
        }
      }
    });
  },
);
