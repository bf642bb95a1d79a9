/**
 * The work of a sweep, point by point, and what it ends as.
 *
 * The network is compiled once. Each conductor and load is made again only when a field it reads
 * has changed, so a map over bond count and bond length costs little more than its solves.
 * @module
 */
import { standardCatalogue } from "../../materials/standard.js";
import { mountWarnings } from "../../mount/budget.js";
import { MountModel } from "../../mount/model.js";
import type { Mount } from "../../mount/mount.js";
import { provenanceOf } from "../../mount/numbers.js";
import { Reach } from "../../mount/ranges.js";
import { readMount } from "../../mount/read.js";
import { SolveError } from "../../network/solution.js";
import { anObject } from "../../units/checks.js";
import { FieldError } from "../../units/errors.js";
import { type MountField, readWith } from "../field.js";
import { type Axis, readAxis } from "./axis.js";
import { Sweep } from "./sweep-result.js";

/** The swept mount, with what no axis touches made once. */
export function modelOf({ mount, catalogue, axes }: SweepWork): MountModel {
  const model = new MountModel(mount, catalogue);
  model.vary(...axes.map(({ field }) => field));
  return model;
}

/** A sweep as it is to be done: the mount in SI with the first values on its axes, and how many points. */
type SweepWork = ReturnType<typeof readSweep>;

/** Reads and checks what is to be swept. @throws FieldError, UnknownNameError */
export function readSweep<A extends MountField, B extends MountField>(
  mount: Mount,
  first: Axis<A>,
  second: Axis<B> | undefined,
  catalogue = standardCatalogue(),
) {
  anObject("sweep", first);
  if (second && (second.field as string) === first.field) {
    throw new FieldError("sweep", "two different fields", first.field);
  }
  const plain = readMount(mount);
  const axes = [first, ...(second ? [second] : [])].map((axis) => readAxis(mount, plain, axis));
  const [outer, inner = { field: "", values: Float64Array.of(0) }] = axes;
  const base = readWith(mount, outer!.field, outer!.values[0]);
  return {
    mount: inner.field ? readWith(base as Mount, inner.field, inner.values[0]) : base,
    axes,
    catalogue,
    rows: outer!.values.length * inner.values.length,
  };
}

/** A point's search starts from the point before, but for the first of so many. */
const block = 32;

/**
 * The points from one row up to another, on one model whose fields are set. Of a die with few nodes blocks
 * are solved from their first point, so that a part of a sweep has the bits of the whole.
 * @returns temperatures [K] point by point, every place, and the extents of every node
 * @throws SolveError naming the point that has no steady state, with the solution so far
 */
export function solvePoints(work: SweepWork, from: number, to: number, model = modelOf(work)) {
  const [outer, inner] = work.axes;
  const { places } = model;
  const size = places.length;
  const temperatures = new Float64Array((to - from) * size);
  const reach = new Reach(model);
  const ofInner = inner?.values.length ?? 1;
  const first = model.isResolved ? from : from - (from % block);
  for (let row = first, j = first % ofInner; row < to; row++, j++) {
    if (j === ofInner) j = 0;
    if (row === first || j === 0) model.set(outer!.field, outer!.values[(row - j) / ofInner]!);
    if (inner) model.set(inner.field, inner.values[j]!);
    try {
      model.solve(row % block === 0 ? "cold" : "present");
    } catch (error) {
      if (!(error instanceof SolveError) || !("imbalance" in error.solution)) throw error;
      const where = work.axes.map(({ field }) => `${field} = ${model.value(field)}`);
      const message = `sweep: no steady state at ${where.join(", ")}: ${error.message}`;
      throw new SolveError({ ...error.solution, message });
    }
    if (row < from) continue;
    model.readInto(temperatures, (row - from) * size);
    reach.add(model);
  }
  return { places, temperatures, low: reach.low, high: reach.high };
}

/** A sweep of all its points. @param model - that solved some of them, if one did */
export function sweepOf(
  work: SweepWork,
  {
    places,
    temperatures,
    low,
    high,
  }: { readonly places: readonly string[] } & Record<"temperatures" | "low" | "high", Float64Array>,
  model = modelOf(work),
): Sweep {
  const { mount, catalogue, axes } = work;
  for (const { field, values } of axes) model.set(field, values[0]!);
  const reach = new Reach(model);
  reach.addExtents({ low, high });
  const warnings = mountWarnings(model.point());
  // A number that moves a range, such as a force, moves it furthest at an end of its axis.
  const [outer, inner] = axes.map(({ field, values }) => {
    const sorted = values.slice().sort();
    return [sorted[0]!, sorted.at(-1)!].map((value) => [field, value] as const);
  });
  for (const first of outer!) {
    for (const corner of inner ?? [undefined]) {
      for (const [field, value] of [first, ...(corner ? [corner] : [])]) model.set(field, value);
      reach.withLaws(model);
    }
  }
  return new Sweep({
    name: mount.name,
    axes,
    places,
    chip: model.chip,
    temperatures,
    warnings: [...reach.warnings(), ...warnings],
    provenance: () => provenanceOf(new MountModel(mount, catalogue).point()),
  });
}
