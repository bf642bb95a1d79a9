/**
 * In which order to eliminate the unknowns of a sparse symmetric pattern.
 *
 * Nodes with few neighbours first (Tinney and Walker, Direct solutions of sparse network equations by optimally
 * ordered triangular factorization, Proc. IEEE 55, 1801 (1967)). An eliminated unknown leaves its
 * neighbours all coupled; that clique is kept as one list, an element, and how many neighbours an
 * unknown has is bounded from the lists it is in (Amestoy, Davis and Duff, An approximate minimum degree
 * ordering algorithm, SIAM J. Matrix Anal. Appl. 17, 886 (1996)), so the work grows little faster than
 * the couplings.
 * @module
 */

/** Smallest number of neighbours with which a rest is worth treating as dense, and what part of all. */
const denseFrom = 16;
const densePart = 0.7;

/** An unknown and its neighbours when it goes, in the order in which those go. */
export interface EliminationStep {
  readonly pivot: number;
  readonly around: number[];
}

/**
 * The pivots in order; and the rest in which nearly all are neighbours, to be treated as dense.
 * @param pairs - unknowns that are coupled
 * @param cliques - unknowns that are all coupled with each other
 */
export function eliminationOrder(
  size: number,
  pairs: Iterable<readonly [number, number]>,
  cliques: readonly (readonly number[])[] = [],
): { readonly steps: EliminationStep[]; readonly rest: number[] } {
  const coupled = Array.from({ length: size }, () => new Set<number>());
  for (const [a, b] of pairs) {
    if (a === b) continue;
    coupled[a]!.add(b);
    coupled[b]!.add(a);
  }
  /** Neighbours of each unknown by couplings of the pattern, and the elements it is in. */
  const neighbours = coupled.map((set) => [...set]);
  const elements: number[][] = neighbours.map(() => []);
  /**
   * Unknowns of an element, by its pivot; empty once another has taken it in. A clique is an element
   * from the start, numbered after all pivots.
   */
  const members: (readonly number[])[] = neighbours.map(() => []);
  const degrees = Int32Array.from(neighbours, (list) => list.length);
  for (const clique of cliques) {
    const element = members.push(clique) - 1;
    for (const node of clique) {
      elements[node]!.push(element);
      degrees[node] = Math.min(size - 1, degrees[node]! + clique.length - 1);
    }
  }
  /** Unknowns that are not eliminated, by how many neighbours they have. */
  const byDegree = Array.from({ length: size }, () => new Set<number>());
  for (const [node, degree] of degrees.entries()) byDegree[degree]!.add(node);
  let fewest = 0;
  /** Where an unknown was last met, by the count of pivots. */
  const met = new Int32Array(size).fill(-1);
  /** Unknowns of an element outside the present one, where `outsideAt` is the count of pivots. */
  const outside = new Int32Array(members.length);
  const outsideAt = new Int32Array(members.length).fill(-1);
  const steps: EliminationStep[] = [];
  for (let left = size; left > 0; left--) {
    while (byDegree[fewest]!.size === 0) fewest++;
    if (fewest >= denseFrom && fewest >= densePart * (left - 1)) break;
    const pivot = byDegree[fewest]!.values().next().value!;
    byDegree[fewest]!.delete(pivot);
    const count = steps.length;
    met[pivot] = count;
    const around: number[] = [];
    const meet = (node: number) => {
      if (met[node] === count) return;
      met[node] = count;
      around.push(node);
    };
    for (const node of neighbours[pivot]!) meet(node);
    for (const element of elements[pivot]!) {
      for (const node of members[element]!) meet(node);
      members[element] = [];
    }
    steps.push({ pivot, around });
    members[pivot] = [...around];
    // Elements taken in are empty; couplings within the new one need no record of their own.
    for (const node of around) {
      neighbours[node] = neighbours[node]!.filter((other) => met[other] !== count);
      elements[node] = elements[node]!.filter((element) => members[element]!.length > 0);
      for (const element of elements[node]!) {
        if (outsideAt[element] !== count) {
          outsideAt[element] = count;
          outside[element] = members[element]!.length;
        }
        outside[element]!--;
      }
    }
    for (const node of around) {
      let beyond = neighbours[node]!.length;
      elements[node] = elements[node]!.filter((element) => {
        beyond += outside[element]!;
        if (outside[element] === 0) members[element] = [];
        return outside[element]! > 0;
      });
      const rise = around.length - 1;
      const degree = Math.min(left - 2, degrees[node]! + rise, beyond + rise);
      elements[node]!.push(pivot);
      byDegree[degrees[node]!]!.delete(node);
      byDegree[degree]!.add(node);
      degrees[node] = degree;
      fewest = Math.min(fewest, degree);
    }
  }
  const rest = byDegree.flatMap((nodes) => [...nodes]);
  const turn = new Int32Array(size);
  steps.forEach(({ pivot }, i) => {
    turn[pivot] = i;
  });
  rest.forEach((node, i) => {
    turn[node] = steps.length + i;
  });
  for (const { around } of steps) around.sort((a, b) => turn[a]! - turn[b]!);
  return { steps, rest };
}
