/**
 * In which order to eliminate the unknowns of a sparse symmetric pattern.
 *
 * Fewest neighbours first (Tinney and Walker, Direct solutions of sparse network equations by optimally
 * ordered triangular factorization, Proc. IEEE 55, 1801 (1967)). An eliminated unknown leaves its
 * neighbours all coupled; that clique is kept as one list, an element, and how many neighbours an
 * unknown has is bounded from the lists it is in (Amestoy, Davis and Duff, An approximate minimum degree
 * ordering algorithm, SIAM J. Matrix Anal. Appl. 17, 886 (1996)), so the work grows little faster than
 * the couplings.
 * @module
 */

/** Fewest neighbours with which a rest is worth treating as dense, and what part of all. */
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
  const queue = new DegreeQueue(degrees);
  /** Where an unknown was last met, by the count of pivots. */
  const met = new Int32Array(size).fill(-1);
  /** Unknowns of an element outside the present one, where `outsideAt` is the count of pivots. */
  const outside = new Int32Array(members.length);
  const outsideAt = new Int32Array(members.length).fill(-1);
  const steps: EliminationStep[] = [];
  for (let left = size; left > 0; left--) {
    const pivot = queue.first();
    const fewest = degrees[pivot]!;
    if (fewest >= denseFrom && fewest >= densePart * (left - 1)) break;
    queue.remove(pivot);
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
      queue.move(node, degree);
    }
  }
  const rest = queue.remaining();
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

/** Unknowns by how many neighbours they have: a doubly linked list for each number. */
class DegreeQueue {
  readonly #degrees: Int32Array;
  readonly #heads: Int32Array;
  readonly #next: Int32Array;
  readonly #previous: Int32Array;
  #lowest = 0;

  /** @param degrees - kept up to date here */
  constructor(degrees: Int32Array) {
    const size = degrees.length;
    this.#degrees = degrees;
    this.#heads = new Int32Array(size + 1).fill(-1);
    this.#next = new Int32Array(size).fill(-1);
    this.#previous = new Int32Array(size).fill(-1);
    // The first come last, so that they head their lists.
    for (let node = size - 1; node >= 0; node--) this.#insert(node);
  }

  /** One of those with the fewest neighbours. */
  first(): number {
    while (this.#heads[this.#lowest] === -1) this.#lowest++;
    return this.#heads[this.#lowest]!;
  }

  move(node: number, degree: number): void {
    if (degree === this.#degrees[node]) return;
    this.remove(node);
    this.#degrees[node] = degree;
    this.#insert(node);
  }

  remove(node: number): void {
    const [next, previous] = [this.#next[node]!, this.#previous[node]!];
    if (next >= 0) this.#previous[next] = previous;
    if (previous >= 0) this.#next[previous] = next;
    else this.#heads[this.#degrees[node]!] = next;
  }

  /** All that were not removed, those with few neighbours first. */
  remaining(): number[] {
    const nodes: number[] = [];
    for (let node of this.#heads) {
      for (; node >= 0; node = this.#next[node]!) nodes.push(node);
    }
    return nodes;
  }

  #insert(node: number): void {
    const degree = this.#degrees[node]!;
    const head = this.#heads[degree]!;
    this.#next[node] = head;
    this.#previous[node] = -1;
    if (head >= 0) this.#previous[head] = node;
    this.#heads[degree] = node;
    this.#lowest = Math.min(this.#lowest, degree);
  }
}
