/**
 * Local slopes of a mount's temperatures: how chip, stage and limit move with any number of it.
 *
 * The rest of a mount is F(T, x) = 0. One transposed solve gives the influence λ of every node on the
 * temperature asked for (see network/adjoint.ts); then dT/dx is the derivative of λ·F(T, x) + T(x) with
 * all temperatures of nodes held. That is a closed function, the laws of the parts alone: its derivative
 * is taken by a central difference of eighth order, good to about ten digits, and nothing is solved
 * again. The hottest point of a 2-D die follows from its contacts, Θ = Σ aₚΘₚ + b, and is treated likewise;
 * where it lies plays no part, since a maximum is flat.
 * @module
 */
import type { PlaceInfluence } from "../../chip/condensed-die.js";
import type { Catalogue } from "../../materials/types.js";
import type { Chips } from "../../mount/assemble.js";
import type { Described } from "../../mount/assembly.js";
import type { Dies } from "../../mount/dies.js";
import { MountModel } from "../../mount/model.js";
import type { PlainMount } from "../../mount/mount.js";
import { ownDie } from "../../mount/on-die.js";
import { limitOf } from "../../mount/things/limit.js";
import { Adjoint } from "../../network/adjoint.js";
import { SteadyNetwork } from "../../network/steady.js";
import { FieldError } from "../../units/errors.js";
import type { ChipStageLimit } from "./evaluated.js";
import type { Sample } from "./uncertain-inputs.js";

/** The hottest point of a 2-D die. */
interface Hottest {
  /** Of the cells. */
  readonly weights: Float64Array;
  readonly influence: PlaceInfluence;
  /** Y of the contacts of this influence. */
  readonly admittance: Float64Array;
  /** dΘ/dT there [W/K]. */
  readonly slope: number;
}

/** Weights of the central first derivative of eighth order (B. Fornberg, Math. Comp. 51, 699 (1988)). */
const weights = [4 / 5, -1 / 5, 4 / 105, -1 / 280];

/** A mount in its steady state, to be asked how that moves with any number of it. */
export class SteadyStateSlopes {
  readonly at: ChipStageLimit;
  readonly #model: MountModel;
  readonly #network: SteadyNetwork;
  readonly #adjoint: Adjoint;
  readonly #hottest: Hottest | undefined;
  /** λ of the chip and, where it finds its own temperature, of the stage. */
  readonly #chip: Float64Array;
  readonly #stage: Float64Array | undefined;
  readonly #chips: Chips;
  /** How chip and stage follow the chip's temperature at which a 2-D die's loads are taken. */
  readonly #followed: readonly number[];

  /** @throws as `MountModel.solve` does */
  constructor(mount: PlainMount, catalogue: Catalogue, dies?: Dies) {
    const solved = new MountModel(mount, catalogue, dies && { dies });
    const { chip, chips, stage, reading, structure, solution, loads, cooling } = solved.point();
    const { field } = reading;
    // Cells are part of the model of the die and stay as they are.
    this.#model = new MountModel(mount, catalogue, {
      dies: solved.dies,
      cells: new Map(
        [...reading.fields].map(([die, { grid }]) => [die, Math.max(grid.cellsX, grid.cellsY)]),
      ),
    });
    const described = this.#model.describe(chips);
    this.#chips = chips;
    const further = loads.find(({ law, source }) => law && source.on !== ownDie);
    if (field && further) {
      const words =
        "a quality factor or a fraction, since slopes follow the temperature of the mount's own die alone";
      throw new FieldError(further.source.field, words, further.source.name);
    }
    this.at = { chip, stage, limit: limitOf(mount, catalogue)?.(stage) ?? Number.NaN };
    const network = new SteadyNetwork(described.network);
    this.#network = network;
    const adjoint = new Adjoint(network);
    this.#adjoint = adjoint;
    network.nodeNames.forEach((name, node) => {
      if (node < network.freeCount) network.temperatures[node] = solution.temperatures.get(name)!;
    });
    const only = (name: string) => network.nodeNames.map((node) => (node === name ? 1 : 0));
    if (field) {
      const weights = field.hottestWeights;
      const { condensed, body } = described.die!;
      const influence = condensed.influence(weights);
      const { law, admittance } = body;
      const slope = law.conductance(chip);
      this.#hottest = { weights, influence, admittance, slope };
      const of = new Map(
        this.#terminals(described).map((T, p) => [
          T.name,
          influence.shares[p]! * law.conductance(T.kelvin),
        ]),
      );
      this.#chip = adjoint.influence(network.nodeNames.map((name) => (of.get(name) ?? 0) / slope));
    } else {
      this.#hottest = undefined;
      this.#chip = adjoint.influence(only(structure.chip.name));
    }
    this.#stage = "cooling" in cooling ? adjoint.influence(only(structure.stage.name)) : undefined;
    this.#followed =
      field && loads.some(({ law }) => law)
        ? derivative((T) => this.#held({ mount, catalogue }, T), chip, 2e-3 * chip)
        : [0, 0];
  }

  /**
   * Slopes by a number of the mount or of its catalogue.
   * @param change - the mount and the catalogue with the number at x; parts and places stay the same
   * @param x - where it is now
   * @param step - a change of x over which the parts' laws are smooth; 4 steps either way are taken
   */
  slopes(change: (x: number) => Sample, x: number, step: number): ChipStageLimit {
    const [held, stageHeld] = derivative((value) => this.#held(change(value)), x, step);
    // A sheet's loads are taken at the chip's temperature, which they move.
    const chip = held! / (1 - this.#followed[0]!);
    const stage = stageHeld! + this.#followed[1]! * chip;
    const [limit] = derivative(
      (value) => {
        const { mount, catalogue } = change(value);
        return [limitOf(mount, catalogue)?.(this.at.stage + stage * (value - x)) ?? Number.NaN];
      },
      x,
      step,
    );
    return { chip, stage, limit: limit! };
  }

  /** T(x) + λ·F(T, x) of chip and stage, but for constants [K]. */
  #held({ mount, catalogue }: Sample, chip = this.at.chip): number[] {
    const model = this.#model;
    model.take(mount, catalogue);
    const described = model.describe(new Map([...this.#chips, [ownDie, chip]]));
    if (!this.#network.updateValues(described.network)) {
      throw new Error(
        `${mount.name}: a small change of an input changes which parts it is made of.`,
      );
    }
    const { stage } = model.numbers;
    const given = "cooling" in stage ? 0 : stage.temperature;
    return [
      this.#adjoint.virtualRise(this.#chip) + this.#placeOnDie(described),
      (this.#stage ? this.#adjoint.virtualRise(this.#stage) : 0) + given,
    ];
  }

  /** What the die's law, size and power do to its hottest point between contacts that are held [K]. */
  #placeOnDie(described: Described): number {
    if (!this.#hottest) return 0;
    const { weights, admittance, slope } = this.#hottest;
    const { condensed, body } = described.die!;
    const same = body.admittance === admittance;
    const influence = same ? this.#hottest.influence : condensed.influence(weights);
    const hottest = body.law.integral(this.at.chip);
    let theta = influence.own(body);
    this.#terminals(described).forEach(({ kelvin }, p) => {
      theta += influence.shares[p]! * (body.law.integral(kelvin) - hottest);
    });
    return theta / slope;
  }

  #terminals({ die }: Described) {
    const { nodeNames, temperatures } = this.#network;
    const node = new Map(nodeNames.map((name, i) => [name, i]));
    return die!.condensed.terminals.map((name) => ({
      name,
      kelvin: temperatures[node.get(name)!]!,
    }));
  }
}

/** df/dx of several numbers at once. */
function derivative(f: (x: number) => number[], x: number, step: number): number[] {
  const sums: number[] = [];
  weights.forEach((weight, k) => {
    const [above, below] = [f(x + (k + 1) * step), f(x - (k + 1) * step)];
    above.forEach((value, i) => {
      sums[i] = (sums[i] ?? 0) + (weight * (value - below[i]!)) / step;
    });
  });
  return sums;
}
