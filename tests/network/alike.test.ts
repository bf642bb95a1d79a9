import { describe, expect, it } from "vitest";
import { alikeNodes, type Likeness } from "../../src/network/alike.js";

/** Links of one law between nodes, the same both ways. */
const graph = (
  kinds: readonly string[],
  pairs: readonly (readonly [number, number])[],
): Likeness => ({
  kinds,
  links: pairs.flatMap(([from, to]) => [
    { from, to, law: "wire", count: 1 },
    { from: to, to: from, law: "wire", count: 1 },
  ]),
  bodies: [],
});

describe("nodes that are alike", () => {
  it("are all of a ring, and those at equal distance in a chain", () => {
    const ring = Array.from({ length: 8 }, (_, i) => [i, (i + 1) % 8] as const);
    expect([...alikeNodes(graph(Array(8).fill("node"), ring))]).toEqual(Array(8).fill(0));
    const chain = Array.from({ length: 4 }, (_, i) => [i, i + 1] as const);
    expect([...alikeNodes(graph(Array(5).fill("node"), chain))]).toEqual([0, 1, 2, 1, 0]);
  });

  it("of the Petersen graph with one node marked are those at distance 1 and 2", () => {
    // Distance-regular with intersection array {3, 2; 1, 1} (Godsil and Royle (2001), section 4.5): the
    // distance partition is equitable, with 1, 3 and 6 nodes.
    const pairs = Array.from({ length: 5 }, (_, i) => [
      [i, (i + 1) % 5] as const,
      [i, i + 5] as const,
      [5 + i, 5 + ((i + 2) % 5)] as const,
    ]).flat();
    const kinds = Array.from({ length: 10 }, (_, i) => (i === 0 ? "marked" : "node"));
    const classes = [...alikeNodes(graph(kinds, pairs))];
    expect(classes).toEqual([0, 1, 2, 2, 1, 1, 2, 2, 2, 2]);
  });

  it("are told apart by how many conduct, by their kind, and one from the other end of a link", () => {
    const base = graph(["a", "a", "a"], []);
    const links = (counts: readonly number[]) =>
      counts.map((count, i) => ({ from: i, to: (i + 1) % 3, law: "wire", count }));
    expect([...alikeNodes({ ...base, links: links([2, 2, 2]) })]).toEqual([0, 0, 0]);
    expect([...alikeNodes({ ...base, links: links([2, 2, 2 + 1e-12]) })]).toEqual([0, 0, 0]);
    expect([...alikeNodes({ ...base, links: links([2, 2, 3]) })]).toEqual([0, 1, 2]);
    expect([...alikeNodes({ ...base, kinds: ["a", "a", "b"], links: links([2, 2, 2]) })]).toEqual([
      0, 1, 2,
    ]);
  });

  it("of a body are those with equal sums to each class, under each of its loads", () => {
    // A square seen from its corners and the middles of its sides, in turns around it.
    const n = 8;
    const admittance = new Float64Array(n * n);
    for (let i = 0; i < n; i++) {
      for (let j = 0; j < n; j++) {
        const apart = Math.min((i - j + n) % n, (j - i + n) % n);
        if (apart > 0) admittance[i * n + j] = -(i % 2 === j % 2 ? 1 : 2) / apart;
      }
      admittance[i * n + i] = -admittance.subarray(i * n, (i + 1) * n).reduce((a, b) => a + b, 0);
    }
    const nodes = Array.from({ length: n }, (_, i) => i);
    const of = (...outflows: readonly (readonly number[])[]) => [
      ...alikeNodes({
        kinds: Array(n).fill("contact"),
        links: [],
        bodies: [{ nodes, admittance, outflows: outflows.map((each) => Float64Array.from(each)) }],
      }),
    ];
    const even = [1, 2, 1, 2, 1, 2, 1, 2];
    expect(of(even)).toEqual([0, 1, 0, 1, 0, 1, 0, 1]);
    // Heat in one corner leaves the mirror about the diagonal through it.
    expect(of(even, [9, 2, 1, 2, 1, 2, 1, 2])).toEqual([0, 1, 2, 3, 4, 3, 2, 1]);
  });
});
