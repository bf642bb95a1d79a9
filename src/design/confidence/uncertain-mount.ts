/**
 * A mount whose numbers are not known exactly, compiled: chip, stage and limit at any values of them.
 *
 * Each conductor, load and limit that an input moves becomes a short formula
 * (see input-law.ts), checked against the mount's own functions; what is no such formula is built anew
 * for each sample. A 2-D die is seen from its contacts (merged-mount.ts). Where an input or a temperature lies
 * outside of what the formulas were checked for, the sample is solved in full, as are all of a die of flights.
 * @module
 */
import { standardCatalogue } from "../../materials/standard.js";
import type { Catalogue, CatalogueChoice, VariedRow } from "../../materials/types.js";
import { mountWarnings } from "../../mount/budget.js";
import { MountModel } from "../../mount/model.js";
import type { Mount, PlainMount } from "../../mount/mount.js";
import type { OperatingPoint } from "../../mount/operating-point.js";
import { placedLaws, Reach } from "../../mount/ranges.js";
import { readMount } from "../../mount/read.js";
import type { DieModel } from "../../mount/things/die.js";
import { FieldError } from "../../units/errors.js";
import { type CorrelatedInputs, type CorrelatedPair, togetherIn } from "./correlated.js";
import { type Evaluated, evaluated, type Formulas, unsettled } from "./evaluated.js";
import { FastMount } from "./fast-mount.js";
import { thinnedDies, thinnedFactor } from "./flown-samples.js";
import { mergedMount } from "./merged-mount.js";
import { bondCounts, movedBy, type Piece, piecesOf, spreadOver } from "./mount-pieces.js";
import { RangeGuard, RangeTally, type SampledRange } from "./sampled-ranges.js";
import {
  fieldInputs,
  heldExtent,
  Inputs,
  rowInput,
  type Sample,
  type UncertainInput,
  withOwnNames,
} from "./uncertain-inputs.js";

export type { Evaluated } from "./evaluated.js";

/** How to compile. */
export interface UncertainMountOptions extends CatalogueChoice {
  /** Rows of the catalogue that count as uncertain: all that move this mount's result when absent. */
  readonly rows?: UncertainRows;
  /** Of the same mount, catalogue and rows, compiled before: nothing is searched for again. */
  readonly recipe?: MountRecipe;
  /** Another model of the die than the mount's own. */
  readonly die?: DieModel;
}

/** Which rows of the catalogue count as uncertain: all that move the result, none, or these, by key. */
export type UncertainRows = "all" | "none" | readonly string[];

/** What compiling a mount found out, as plain data that can be sent to a worker. */
export interface MountRecipe {
  /** Keys of the rows that move it. */
  readonly rows: readonly string[];
  /** Inputs that move each piece. */
  readonly moved: readonly (readonly number[])[];
  /** How the inputs enter, where they do by formulas. */
  readonly formulas?: Formulas;
  /** Where each sample flies phonons of its own: by which its rise is multiplied. */
  readonly flownFactor?: number;
}

/** A mount and what of it is not known exactly. */
export interface UncertainMount {
  /** The mount's name. */
  readonly name: string;
  /** The uncertain inputs, in the order of their values. */
  readonly inputs: readonly UncertainInput[];
  /** Medians of the inputs, in their order. */
  readonly medians: Float64Array;
  /** Ranges of its laws, a bit each of `Evaluated.left`. */
  readonly ranges: readonly SampledRange[];
  /** Inputs that vary together, as the mount says. */
  readonly together: readonly CorrelatedInputs[];
  /** The same by pairs, in words. */
  readonly pairs: readonly CorrelatedPair[];
  /** What is told of it whatever the values; that it left ranges is told by its samples. */
  readonly warnings: readonly string[];
  /** For compiling the same again. */
  readonly recipe: MountRecipe;
  /**
   * Temperatures of chip and stage, limit and margin with these values of the inputs.
   * @param values - of the inputs, in SI, in their order
   * @throws FieldError for a value that the mount refuses
   */
  evaluate(values: Float64Array): Evaluated;
  /**
   * The same mount with another number of bonds, and the same inputs.
   * @throws FieldError as reading the mount does
   */
  withBonds(count: number): UncertainMount;
}

/**
 * Compiles a mount with its spreads and the uncertain rows of the catalogue.
 * @throws FieldError or UnknownNameError as `thermalBudget`; FieldError for a spread of which the mount
 * refuses more than a tenth
 */
export function uncertainMount(mount: Mount, options: UncertainMountOptions = {}): UncertainMount {
  const catalogue = options.catalogue ?? standardCatalogue();
  const plain = readMount(mount);
  const { recipe, die } = options;
  const ofDie = { ...(die && { die }) };
  const model = new MountModel(plain, catalogue, ofDie);
  const point = model.point();
  const pieces = piecesOf(model.structure);
  const fields = fieldInputs(mount, (changed) => {
    for (const piece of pieces) piece.numbers({ mount: changed, catalogue }, [point.stage]);
  });
  const seen = temperaturesSeen(point, new Inputs(fields, plain, catalogue));
  const rows = recipe?.rows ?? options.rows ?? "all";
  // How far dies depart from what is computed with their faces as the free path is a free path of the die
  // by another name: both together would count it twice.
  const replaced = fields.some(({ field }) => field === "die.meanFreePath")
    ? `${plain.die.material}: thermal conductivity, measured over computed`
    : undefined;
  const candidates = chosen(rows, catalogue, replaced).map(rowInput);
  const all = new Inputs(withOwnNames([...fields, ...candidates]), plain, catalogue);
  const { inputs, moved } = recipe
    ? { inputs: all, moved: recipe.moved }
    : relevant(all, pieces, seen);
  const kept = inputs.list;
  const flies = pieces.flatMap(({ kind }, k) => (kind === "box of flights" ? moved[k]! : []));
  const isFlownAnew = flies.length > 0;
  const flownFactor = isFlownAnew
    ? (recipe?.flownFactor ?? thinnedFactor(inputs, flies, ofDie))
    : undefined;
  const solved = isFlownAnew
    ? new MountModel(plain, catalogue, { ...ofDie, dies: thinnedDies() })
    : model;
  const { groups: together, pairs, warnings: exact } = togetherIn(plain, kept, catalogue.rows());
  const reach = new Reach(model);
  const guard = new RangeGuard(placedLaws(model.structure, point.conductors), reach.nodes);
  const inFull = (values: Float64Array, bonds: number | undefined) =>
    solvedInFull(solved, inputs.at(values), bonds, reach, guard, flownFactor);
  const rowKeys = kept.flatMap(({ row }) => row ?? []);
  const own = plain.bonds?.count;
  const compiled = (of: MountModel, at: Inputs, known: Formulas | undefined) => {
    const merged = of.isResolved ? mergedMount(of, point.stage, kept) : undefined;
    if (of.isResolved && !merged) return undefined;
    const made = new FastMount(at, pieces, moved, point, inFull, known, merged);
    return made.isSound ? made : undefined;
  };
  const known = new Map<number | undefined, FastMount | undefined>();
  /** Made when it is first asked for; of another number of bonds by the formulas of the mount's own. */
  const fastWith = (bonds: number | undefined): FastMount | undefined => {
    if (known.has(bonds)) return known.get(bonds);
    let made: FastMount | undefined;
    if (bonds === own) made = compiled(model, inputs, recipe?.formulas);
    else {
      made = fastWith(own);
      if (made && !made.countsBonds) {
        const changed = withCount(plain, bonds!);
        const of = new MountModel(changed, catalogue, { dies: model.dies });
        made = compiled(of, new Inputs(kept, changed, catalogue), made.formulas);
      }
    }
    if (known.size > mostCounts) known.delete([...known.keys()].find((count) => count !== own)!);
    known.set(bonds, made);
    return made;
  };
  let told: readonly string[] | undefined;
  const counting = (bonds: number | undefined): UncertainMount => ({
    name: plain.name,
    inputs: kept,
    medians: inputs.medians,
    ranges: guard.ranges,
    together,
    pairs,
    get warnings() {
      told ??= [...exact, ...withoutStates(plain, inputs), ...mountWarnings(point)];
      return told;
    },
    get recipe() {
      const formulas = fastWith(own)?.formulas;
      return {
        rows: rowKeys,
        moved,
        ...(formulas && { formulas }),
        ...(flownFactor !== undefined && { flownFactor }),
      };
    },
    evaluate(values) {
      if (values.length !== kept.length) {
        throw new FieldError("values", `${kept.length} values, one for each input`, values.length);
      }
      return fastWith(bonds)?.evaluate(values, bonds) ?? inFull(values, bonds);
    },
    withBonds(count) {
      if (!mount.bonds) throw new FieldError("bonds", "bonds to count", undefined);
      const changed = { ...mount, bonds: { ...mount.bonds, count } };
      readMount(changed);
      // Formulas that read how many there are hold for one number.
      if (bondCounts(inputs, model.structure)) return counting(count);
      return uncertainMount(changed, { catalogue, rows: rowKeys, ...(die && { die }) });
    },
  });
  return counting(own);
}

/** Numbers of bonds for which a 2-D die is kept compiled, beside the mount's own. */
const mostCounts = 4;

function withCount(mount: PlainMount, count: number): PlainMount {
  return { ...mount, bonds: { ...mount.bonds!, count } };
}

/** Rows of the catalogue that may count. @throws FieldError for a choice that is none */
function chosen(
  rows: UncertainRows,
  catalogue: Catalogue,
  replaced: string | undefined,
): readonly VariedRow[] {
  const all = catalogue.rows();
  if (rows === "none") return [];
  if (rows === "all") return all.filter(({ quantity }) => quantity !== replaced);
  if (!Array.isArray(rows)) {
    throw new FieldError("rows", '"all", "none" or a list of keys of catalogue.rows()', rows);
  }
  const unknown = rows.find((key) => !all.some((row) => row.key === key));
  if (unknown !== undefined) throw new FieldError("rows", "keys of catalogue.rows()", unknown);
  return all.filter(({ key }) => rows.includes(key));
}

/** The inputs that move a mount, and which of them move each piece: a given spread always counts. */
function relevant(
  all: Inputs,
  pieces: readonly Piece[],
  seen: (piece: Piece) => readonly [low: number, high: number],
) {
  const movedAll = pieces.map((piece) => movedBy(piece, all, spreadOver(...seen(piece))));
  const kept = all.list.filter(
    ({ field }, i) => field !== undefined || movedAll.some((moved) => moved.includes(i)),
  );
  const index = new Map(kept.map((input, i) => [input, i]));
  const moved = movedAll.map((some) => some.flatMap((i) => index.get(all.list[i]!) ?? []));
  return { inputs: new Inputs(kept, all.mount, all.catalogue), moved };
}

/** Tells the lowest and highest temperature at which a piece of a mount is asked, with some margin [K]. */
function temperaturesSeen(
  { structure, network, reading, chip, stage }: OperatingPoint,
  fields: Inputs,
): (piece: Piece) => readonly [low: number, high: number] {
  const held = new Map(network.nodes.map((node) => [node.name, node.temperature]));
  const warm = new Map(
    structure.warm.map(({ from, temperature }) => [from.name, heldExtent(fields, temperature)]),
  );
  const extent = (name: string): readonly [number, number] => {
    const T = held.get(name);
    if (T === undefined) return reading.extents.get(name) ?? [stage, chip];
    return warm.get(name) ?? [T, T];
  };
  return ({ ends }) => {
    const extents = ends.map(extent);
    const low = Math.min(...extents.map(([a]) => a));
    const high = Math.max(...extents.map(([, b]) => b));
    const free = !ends.some((name) => held.has(name) && extent(name)[1] === high);
    return [0.9 * low, free ? 1.3 * high : high * (1 + 1e-9)];
  };
}

/** What loads and numbers such as forces leave, at the medians and with each spread at its ends. */
function withoutStates(plain: PlainMount, inputs: Inputs): readonly string[] {
  const model = new MountModel(plain, inputs.catalogue);
  const reach = new Reach(model);
  inputs.list.forEach(({ field, low, high }, i) => {
    if (field === undefined) return;
    const moved = inputs.moving([i]);
    for (const end of [low, high]) {
      const values = inputs.medians.slice();
      values[i] = end;
      const { mount, catalogue } = moved(values);
      model.take(mount, catalogue);
      reach.withLaws(model);
    }
  });
  return reach.warnings();
}

/** Chip, stage and limit of a mount solved in full. */
function solvedInFull(
  model: MountModel,
  { mount, catalogue }: Sample,
  bonds: number | undefined,
  reach: Reach,
  guard: RangeGuard,
  factor = 1,
): Evaluated {
  const counted = bonds === undefined ? mount : withCount(mount, bonds);
  model.take(counted, catalogue);
  try {
    model.solve();
  } catch (error) {
    if (error instanceof FieldError) throw error;
    return unsettled;
  }
  const stage = model.temperature(model.structure.stage.name);
  reach.forget();
  reach.add(model);
  const left = guard.left(reach.low, reach.high);
  const limit = model.limit?.(stage) ?? Number.NaN;
  const found = model.temperature(model.chip);
  const chip = factor === 1 ? found : stage + factor * (found - stage);
  return evaluated(chip, stage, limit, left);
}

/** The mount, and a count of the samples that leave ranges, of all that are asked of it from now on. */
export function tallied(of: UncertainMount) {
  const tally = new RangeTally(of.ranges);
  const evaluate = (values: Float64Array) => {
    const found = of.evaluate(values);
    tally.count(found.left);
    return found;
  };
  return { model: { ...of, evaluate }, tally };
}
