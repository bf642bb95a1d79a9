/** What must hold of any mount that is solved, and of any run in time, however extreme. */

import type { TemperatureRange } from "../../src/conductor.js";
import { standardCatalogue } from "../../src/materials/standard.js";
import { thermalBudget } from "../../src/mount/budget.js";
import { timeCourse } from "../../src/mount/follow.js";
import { inTime } from "../../src/mount/in-time.js";
import { MountModel } from "../../src/mount/model.js";
import type { Mount } from "../../src/mount/mount.js";
import { placedLaws } from "../../src/mount/ranges.js";
import { readMount } from "../../src/mount/read.js";
import { refuseNaN } from "./cases.js";
import type { extremeCourses } from "./extreme-mounts.js";

type Course = typeof extremeCourses extends { generate: unknown } & infer A
  ? A extends import("fast-check").Arbitrary<infer T>
    ? T
    : never
  : never;

/** How a case ended. */
export type Ending = "solved" | "refused as a field" | "refused by a law" | "without a solution";

/** @throws Error unless an error is one for the user that names a place */
function ending(error: unknown): Ending {
  const { name, message } = error as Error;
  if (/NaN|undefined|\[object/.test(message)) throw error;
  if (name === "FieldError" || name === "UnknownNameError") return "refused as a field";
  if (name === "SolveError") {
    if (!/node "|link "|body "|^die: |^eigenTimes/.test(message)) throw error;
    return "without a solution";
  }
  if (name === "RangeError" && /is outside .* No valid extrapolation/.test(message))
    return "refused by a law";
  throw error;
}

/** Ends of ranges that a temperature is outside of by more than rounding. */
function left(ranges: readonly TemperatureRange[] = [], low: number, high: number): boolean {
  return ranges.some(
    ({ from, to, given }) => !given && (low < from * (1 - 1e-6) || high > to * (1 + 1e-6)),
  );
}

function demandWarning(warnings: readonly string[], name: string): void {
  if (warnings.some((text) => text.startsWith(`${name}:`))) return;
  throw new Error(`no warning of ${name}, which left its range: ${warnings.join(" | ")}`);
}

/** @throws Error for what must not be in a steady state */
export function checkSteady(mount: Mount): Ending {
  let budget: ReturnType<typeof thermalBudget>;
  try {
    budget = thermalBudget(mount);
  } catch (error) {
    return ending(error);
  }
  const { field, provenance, cooling, ...rest } = budget;
  refuseNaN([{ ...rest, field: undefined }, budget.toText()], "budget", new Set(), []);
  const { solution, places, elements, sources, total, warnings } = budget;
  const heat = sources.reduce((sum, { power }) => sum + Math.abs(power), 0);
  if (!(solution.imbalance.relative < 1e-6)) throw new Error("heat does not balance");
  const stageName = places.at(-1)!.name;
  const out = elements
    .filter(({ to }) => to === stageName || to.startsWith("far end of "))
    .reduce((sum, { power }) => sum + power, 0);
  // Just below T_c a readout's heat changes so steeply that the chip's temperature runs out of digits.
  if (!(Math.abs(out - total) <= 1e-5 * heat)) {
    throw new Error(`${total} W come in, ${out} W leave`);
  }
  const coldest = budget.stage * (1 - 1e-9);
  for (const { name, temperature } of places) {
    if (!(temperature >= coldest)) throw new Error(`${name} at ${temperature} K`);
  }
  // Where cells end the cutting of contacts, up to a fiftieth of the span of Θ is let pass.
  const span = field ? field.hottest.temperature - budget.stage : 0;
  if (field && !(field.coldest.temperature >= budget.stage * (1 - 1e-6) - 0.1 * span)) {
    throw new Error(`the die is at ${field.coldest.temperature} K`);
  }
  const model = new MountModel(readMount(mount), standardCatalogue());
  const { structure, conductors, network } = model.point();
  const at = new Map<string, number>(places.map((place) => [place.name, place.temperature]));
  for (const { name, temperature } of network.nodes)
    if (temperature !== undefined) at.set(name, temperature);
  for (const { name, law, nodes } of placedLaws(structure, conductors)) {
    const ends = nodes.flatMap((node) => at.get(node) ?? []);
    if (ends.length < nodes.length) continue;
    if (left(law.ranges, Math.min(...ends), Math.max(...ends))) demandWarning(warnings, name);
  }
  return "solved";
}

/** @throws Error for what must not be in a run in time */
export function checkInTime(mount: Mount, course: Course): Ending & string {
  const { duration, hits, initially, changes, stage, start } = course;
  const coldestStage = mount.stage as number;
  const load = mount.loads[0]!.name!;
  const inOrder = (times: readonly number[]) => [...times].sort((a, b) => a - b);
  const when = inOrder(changes.map(([at]) => at));
  let run: ReturnType<typeof timeCourse>;
  try {
    run = timeCourse(mount, {
      duration,
      hits: inOrder(hits.map(([at]) => at)).map((at, i) => ({
        at: at * duration,
        energy: hits[i]![1],
      })),
      ...(changes.length > 0 && { initially: { [load]: initially } }),
      changes: changes.map(([, to], i) => ({ load, at: when[i]! * duration, to })),
      ...(stage && { stage: [{ at: stage[0] * duration, to: stage[1] * coldestStage }] }),
      ...(start && { start: start * coldestStage }),
    });
  } catch (error) {
    return ending(error);
  }
  const { solution, warnings } = run;
  refuseNaN([run.toText(), run.chip, solution.energy], "run", new Set(), []);
  if (solution.status !== "finished") throw new Error(solution.message);
  if (!(Math.abs(solution.energy.imbalance) < 1e-6)) {
    throw new Error(`heat is lost: ${JSON.stringify(solution.energy)}`);
  }
  const coldest = coldestStage * Math.min(1, stage?.[1] ?? 1) * (1 - 1e-4);
  for (const node of solution.nodes) {
    const [low, high] = solution.extent(node);
    if (!(low >= coldest && high < Number.POSITIVE_INFINITY)) {
      throw new Error(`${node} from ${low} to ${high} K`);
    }
  }
  const laws = inTime(new MountModel(readMount(mount), standardCatalogue())).laws;
  for (const { name, law, nodes } of laws) {
    const extents = nodes.map((node) => solution.extent(node));
    const [low, high] = [
      Math.min(...extents.map(([cold]) => cold)),
      Math.max(...extents.map(([, hot]) => hot)),
    ];
    if (left(law.ranges, low, high)) demandWarning(warnings, name);
  }
  return "solved";
}
