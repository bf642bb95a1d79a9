/**
 * Follows a mount in time: particles hit, loads come and go, or the stage moves.
 * @module
 */
import type { Load } from "../conductor.js";
import { standardCatalogue } from "../materials/standard.js";
import type { CatalogueChoice } from "../materials/types.js";
import type { NetworkDescription } from "../network/description.js";
import type { TransientSolution } from "../network/trajectory.js";
import { TransientNetwork } from "../network/transient.js";
import { isExtrapolated, toldOutside } from "../ranges.js";
import { notNegative, positive } from "../units/checks.js";
import { FieldError } from "../units/errors.js";
import { formatGiven } from "../units/format.js";
import type { Temperature, Time } from "../units/quantity.js";
import { sumOf } from "./assemble.js";
import {
  type Course,
  type GivenHit,
  type LoadChange,
  loadCourses,
  type StageChange,
  stageCourse,
} from "./changes.js";
import { inTime } from "./in-time.js";
import type { NodalShare } from "./links.js";
import { MountModel } from "./model.js";
import type { Mount } from "./mount.js";
import { provenanceInTime } from "./numbers.js";
import { leftBy } from "./ranges.js";
import { readMount } from "./read.js";
import { limitOf } from "./things/limit.js";
import { TimeCourse } from "./time-course.js";
import type { InTime, LoadInTime } from "./timed.js";

/** Most steps of a run for each stretch between hits and changes; few need a thousand. */
export const mostStepsEach = 5_000;

/** What happens, and for how long it is followed. */
export interface TimeCourseOptions extends CatalogueChoice {
  /** How long to follow it [s]. */
  readonly duration: Time;
  /** In order of time. */
  readonly hits?: readonly GivenHit[];
  /** What of a load's power falls at the start, by its name: 0 is off; 1 when absent. */
  readonly initially?: Readonly<Record<string, number>>;
  /** In order of time for each load. */
  readonly changes?: readonly LoadChange[];
  /** Changes of the stage's temperature; none when absent. */
  readonly stage?: readonly StageChange[];
  /**
   * In the steady state with the loads of the start (default), or everything at one temperature, as when it has
   * been held there.
   */
  readonly start?: "steady" | Temperature;
  /** Of a temperature, 1e-6 when absent; a rise of a part in a thousand is then right to 0.1 %. */
  readonly relativeTolerance?: number;
  /** Cells of a 2-D die along its longer side, 4 to 128; 32 when absent. */
  readonly cells?: number;
}

/**
 * Follows a mount in time.
 * @throws FieldError or UnknownNameError naming a wrong field; RangeError when a temperature is where a
 * law is refused; SolveError when the tolerance can't be met, saying when and where
 * @example timeCourse(mount, { duration: "1 s", hits: [{ at: "0.1 s", energy: "150 keV" }] }).peak
 */
export function timeCourse(mount: Mount, options: TimeCourseOptions): TimeCourse {
  const model = new MountModel(readMount(mount), options.catalogue ?? standardCatalogue());
  return followed(inTime(model, options.cells), options);
}

/** Energy that comes evenly from one time to another. */
export interface HeatBetween {
  /** [s] */
  readonly from: number;
  /** [s] */
  readonly to: number;
  /** [J] */
  readonly energy: number;
  readonly nodes: readonly NodalShare[];
}

/** A mount made ready for a run in time, followed. @param between - heat beside loads and hits */
export function followed(
  inTime: InTime,
  options: TimeCourseOptions,
  between: readonly HeatBetween[] = [],
): TimeCourse {
  const { mount, catalogue } = inTime;
  const duration = positive("duration", options.duration, "time");
  const names = inTime.loads.map(({ name }) => name);
  const courses = loadCourses(names, options.initially ?? {}, options.changes ?? []);
  const hits = (options.hits ?? []).map((hit, i) => readHit(inTime, hit, i));
  hits.forEach(({ at }, i) => {
    const before = hits[i - 1]?.at ?? 0;
    if (at < duration && at >= before) return;
    const wanted =
      at < duration
        ? `no time before that of the hit before, ${formatGiven(before, "s")}`
        : `a time before the end, ${formatGiven(duration, "s")}`;
    throw new FieldError(`hits[${i}].at`, wanted, formatGiven(at, "s"));
  });
  const stage = stageInTime(inTime, options.stage ?? []);
  const network = loadedNetwork(inTime, inTime.loads, courses);
  const changes = [...courses.values(), ...(stage ? [stage] : [])];
  const segments = changes.reduce(
    (sum, { breaks }) => sum + breaks.length,
    1 + hits.length + between.length,
  );
  const solution = new TransientNetwork(network).run({
    duration,
    maxSteps: mostStepsEach * segments,
    loads: [...changing(inTime.loads, courses), ...between.flatMap(evenly)],
    pulses: hits.flatMap(({ at, energy, nodes }) =>
      nodes.map(({ node, share }) => ({ time: at, node, energy: energy * share })),
    ),
    ...(stage && { temperatures: [stage] }),
    ...startOf(inTime, options.start),
    ...(options.relativeTolerance !== undefined && {
      relativeTolerance: options.relativeTolerance,
    }),
  });
  const coldest = solution.temperature(inTime.structure.stage.name, 0);
  return new TimeCourse(
    {
      name: mount.name,
      solution,
      limit: limitOf(mount, catalogue)?.(coldest),
      happened: { hits: hits.map(({ at, energy }) => ({ at, energy })), duration },
      ...toldInTime(inTime, solution),
      provenance: () => provenanceInTime(inTime),
    },
    inTime,
    network,
  );
}

/** What is told of a run in time: of stores without a heat, of ranges that were left, and of its loads. */
function toldInTime(inTime: InTime, solution: TransientSolution) {
  const extents = new Map(solution.nodes.map((node) => [node, solution.extent(node)]));
  const left = leftBy(inTime.laws, (node) => extents.get(node)!);
  const loads = inTime.loads.flatMap(({ load }) => load.warnings);
  return {
    warnings: [...inTime.warnings, ...toldOutside(left), ...loads],
    extrapolated: left.some(isExtrapolated) || loads.length > 0,
  };
}

function readHit(inTime: InTime, hit: GivenHit, i: number) {
  const field = `hits[${i}]`;
  const at = hit.place && {
    x: notNegative(`${field}.place.x`, hit.place.x, "length"),
    y: notNegative(`${field}.place.y`, hit.place.y, "length"),
  };
  return {
    at: notNegative(`${field}.at`, hit.at, "time"),
    energy: positive(`${field}.energy`, hit.energy, "energy"),
    nodes: inTime.hit(at, `${field}.place`),
  };
}

/** The network with what does not change in time, watts and laws of temperature, on its nodes. */
export function loadedNetwork(
  { network }: InTime,
  loads: readonly LoadInTime[],
  courses: ReadonlyMap<string, Course> = new Map(),
): NetworkDescription {
  const watts = new Map<string, number>();
  const laws = new Map<string, Load[]>();
  for (const { name, nodes, load, law } of loads) {
    if (courses.has(name)) continue;
    for (const { node, share } of nodes) {
      if (law) laws.set(node, [...(laws.get(node) ?? []), scaledLoad(law, share)]);
      else watts.set(node, (watts.get(node) ?? 0) + share * load.power);
    }
  }
  return {
    ...network,
    nodes: network.nodes.map((node) => {
      if (node.temperature !== undefined) return node;
      const fixed = watts.get(node.name) ?? 0;
      const own = laws.get(node.name);
      return { load: own ? sumOf(fixed, own) : fixed, ...node };
    }),
  };
}

/** Heat between two times, as the network takes it. */
function evenly({ from, to, energy, nodes }: HeatBetween) {
  const power = energy / (to - from);
  return nodes.map(({ node, share }) => ({
    node,
    breaks: [from, to].filter((time) => time > 0),
    power: (time: number) => (time >= from && time < to ? share * power : 0),
  }));
}

/** What changes in time, as the network takes it. */
function changing(loads: readonly LoadInTime[], courses: ReadonlyMap<string, Course>) {
  return loads.flatMap(({ name, nodes, load, law }) => {
    const course = courses.get(name);
    if (!course) return [];
    return nodes.map(({ node, share }) => ({
      node,
      breaks: course.breaks,
      power: (time: number, T: number) =>
        course.at(time) * share * (law ? law.power(T) : load.power),
      ...(law && { slope: (time: number, T: number) => course.at(time) * share * law.slope(T) }),
    }));
  });
}

function scaledLoad(law: Load, factor: number): Load {
  return { power: (T) => factor * law.power(T), slope: (T) => factor * law.slope(T) };
}

/** A stage that is moved. @throws FieldError for one that finds its own temperature */
function stageInTime({ cooling, structure }: InTime, changes: readonly StageChange[]) {
  if (changes.length === 0) return undefined;
  if ("cooling" in cooling) {
    throw new FieldError("stage", "a mount whose stage has a given temperature", changes);
  }
  const course = stageCourse(cooling.temperature, changes);
  return {
    node: structure.stage.name,
    temperature: (time: number) => course.at(time),
    breaks: course.breaks,
  };
}

function startOf({ network }: InTime, start: TimeCourseOptions["start"] = "steady") {
  if (start === "steady") return {};
  const temperature = positive("start", start, "temperature");
  const storing = network.nodes.filter(({ store }) => store);
  return { start: new Map(storing.map(({ name }) => [name, temperature])) };
}
