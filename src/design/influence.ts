/**
 * How heat at one place warms another: crosstalk between pixels, and what a die's heat sink costs all of them.
 * @module
 */
import { powerConductor } from "../conductor.js";
import { standardCatalogue } from "../materials/standard.js";
import type { CatalogueChoice } from "../materials/types.js";
import { MountModel } from "../mount/model.js";
import type { Mount } from "../mount/mount.js";
import { provenanceOf } from "../mount/numbers.js";
import { pointWarnings } from "../mount/ranges.js";
import { readMount } from "../mount/read.js";
import { square } from "../mount/things/spots.js";
import { Adjoint } from "../network/adjoint.js";
import { SteadyNetwork } from "../network/steady.js";
import { FieldError, UnknownNameError } from "../units/errors.js";
import * as read from "../units/fields.js";
import { formatQuantity, formatShare } from "../units/format.js";
import type { Length } from "../units/quantity.js";
import { Result, type ResultContent, type ResultRow } from "../units/result.js";
import type { Uncertain } from "../units/spread.js";
import { quantityCell, shareCell, type Table, temperatureCell } from "../units/table.js";

/** A square on the die, such as a pixel. */
export interface DieSpot {
  /** As the result shows it; its number when absent. */
  readonly name?: string;
  /** Middle, from the die's left edge [m]. */
  readonly x: Uncertain<Length>;
  /** Middle, from the die's lower edge [m]. */
  readonly y: Uncertain<Length>;
  /** Side of the square over which heat falls and temperature is averaged [m]. */
  readonly size: Uncertain<Length>;
}

/** A place whose heat and temperature are asked for. */
export interface InfluencePlace {
  /** As results show it. */
  readonly name: string;
  /** Its temperature with the mount's own loads [K]. */
  readonly temperature: number;
  /** Middle of a square on the die [m]; absent for another place of the mount. */
  readonly at?: { readonly x: number; readonly y: number };
}

const spots = read.list<DieSpot | string>(
  read.either<string, DieSpot>(
    (written) => typeof written === "string",
    read.text,
    read.object<DieSpot>({
      name: read.optional(read.text),
      x: read.quantityFromZero("length"),
      y: read.quantityFromZero("length"),
      size: read.quantity("length"),
    }),
  ),
  "two places or more: squares on the die, or names of places of the mount",
  2,
);

/** Most places of which every table and figure is made. */
const mostInMatrix = 8;

/** Rises at places for heat at each of them. */
export class Influence extends Result {
  declare readonly name: string;
  /** In the order they were given. */
  declare readonly places: readonly InfluencePlace[];
  /** `rises[i][j]`: rise of place i for heat at place j [K/W], to first order in that heat. */
  declare readonly rises: readonly (readonly number[])[];

  /** @internal Made by `influence`. */
  constructor(content: ResultContent<Influence, "meanShare" | "smallestShare" | "share">) {
    super(content);
  }

  /** Rise of place i for heat at j over that of place j itself. */
  share(i: number, j: number): number {
    return this.rises[i]![j]! / this.rises[j]![j]!;
  }

  /** Mean share over all pairs of different places on the die. */
  get meanShare(): number {
    const shares = this.#pairs().map(([i, j]) => this.share(i, j));
    return shares.reduce((sum, share) => sum + share, 0) / shares.length;
  }

  /** Smallest share of any pair on the die: what all have in common, the way from the die to the stage. */
  get smallestShare(): number {
    return Math.min(...this.#pairs().map(([i, j]) => this.share(i, j)));
  }

  /** All pairs of different places on the die; of all places where fewer than two are on it. */
  #pairs(): readonly (readonly [warmed: number, heated: number])[] {
    const every = this.places.map((_, i) => i);
    const onDie = every.filter((i) => this.places[i]!.at);
    const all = onDie.length < 2 ? every : onDie;
    return all.flatMap((i) => all.filter((j) => j !== i).map((j) => [i, j] as const));
  }

  protected get answer(): string {
    const { meanShare, smallestShare } = this;
    const verdict =
      smallestShare > 0.5
        ? "Most of every rise is common to all places: the way from the die to the stage resists more " +
          "than the die does between them, and a better heat sink helps all."
        : "Most of a rise stays near its heat: the die resists more than the way to the stage does.";
    return (
      `Heat at one place warms the others by ${formatShare(meanShare)} of its own rise on average, ` +
      `by ${formatShare(smallestShare)} at least. ${verdict}`
    );
  }

  protected tables(): readonly Table[] {
    const { places, rises } = this;
    const names = places.map(({ name }) => name);
    const others = (j: number) => places.map((_, i) => i).filter((i) => i !== j);
    const matrix: Table = {
      title: "Rise at each place for heat at one",
      columns: ["heat at", ...names],
      numbersFrom: 1,
      rows: names.map((name, j) => [
        name,
        ...names.map((_, i) => {
          const rise = rises[i]![j]!;
          const words = `${formatQuantity(rise, "K/W")} (${formatShare(this.share(i, j))})`;
          return quantityCell(rise, "K/W", words);
        }),
      ]),
    };
    return [
      {
        title: "Places",
        columns: ["place", "temperature", "own rise", "mean share elsewhere", "largest", "there"],
        numbersFrom: 1,
        rows: places.map(({ name, temperature }, j) => {
          const shares = others(j).map((i) => ({ i, share: this.share(i, j) }));
          const most = shares.reduce((a, b) => (b.share > a.share ? b : a));
          return [
            name,
            temperatureCell(temperature),
            quantityCell(rises[j]![j]!, "K/W"),
            shareCell(shares.reduce((sum, { share }) => sum + share, 0) / shares.length),
            shareCell(most.share),
            names[most.i]!,
          ];
        }),
      },
      ...(places.length > mostInMatrix ? [] : [matrix]),
    ];
  }

  protected override *csvRows(): Generator<ResultRow> {
    for (const { name, temperature } of this.places) {
      yield ["place", name, "temperature", temperature, "K"];
    }
    for (const [j, { name: from }] of this.places.entries()) {
      for (const [i, { name: to }] of this.places.entries()) {
        const ends = { from, to };
        yield ["influence", `${from} on ${to}`, "rise for heat", this.rises[i]![j], "K/W", ends];
        yield ["influence", `${from} on ${to}`, "share of own rise", this.share(i, j), "", ends];
      }
    }
  }

  protected override notes(): readonly string[] {
    return ["Rises are to first order in the heat; loads of the mount stay as they are."];
  }
}

/**
 * The rise at each of several places for heat at each other, around the mount's steady state: linear in Θ on
 * the die, which is taken in its 2-D model or by flights of phonons, and one factorised Jacobian for all that is behind its contacts.
 * @param places - squares on the die, and names of places of the mount such as `"box by the die"`
 * @throws FieldError or UnknownNameError naming a wrong place
 * @example influence(mount, [{ x: "2 mm", y: "2 mm", size: "0.5 mm" },
 *   { x: "8 mm", y: "2 mm", size: "0.5 mm" }]).share(1, 0)
 */
export function influence(
  mount: Mount,
  places: readonly (DieSpot | string)[],
  options: CatalogueChoice = {},
): Influence {
  const catalogue = options.catalogue ?? standardCatalogue();
  const plain = readMount(mount);
  const die2D = plain.die.model === "flights" ? "flights" : "sheet";
  const model = new MountModel(plain, catalogue, { die: die2D });
  const asked = spots.read(places, "places");
  const point = model.point();
  const { network: description, links, die } = model.describe(point.chips);
  const { condensed, body } = die!;
  const { grid, terminals } = condensed;
  const network = new SteadyNetwork(description);
  for (let node = 0; node < network.freeCount; node++) {
    network.temperatures[node] = point.solution.temperatures.get(network.nodeNames[node]!)!;
  }
  const adjoint = new Adjoint(network);
  const nodeOf = new Map(network.nodeNames.map((name, node) => [name, node]));
  const contacts = terminals.map((name) => nodeOf.get(name)!);
  const slopes = contacts.map((node) => body.law.conductance(network.temperatures[node]!));
  const field = point.reading.field!.temperatures;

  /** Places of the mount that are one node. */
  const single = new Map(
    [...links.nodesOf].flatMap(([{ name, onDie }, nodes]) => {
      const node = nodes.length === 1 && !onDie ? nodeOf.get(nodes[0]!) : undefined;
      return node !== undefined && node < network.freeCount ? [[name, node] as const] : [];
    }),
  );

  const found = asked.map((place, k) => {
    const at = `places[${k}]`;
    if (typeof place === "string") {
      const node = single.get(place);
      if (node === undefined) throw new UnknownNameError(at, "place", place, [...single.keys()]);
      return { name: place, temperature: network.temperatures[node]!, node };
    }
    const over = grid.onDie(square(place, place.size), at);
    const cells = grid.cellsUnder([over]);
    const temperature = cells.reduce((sum, { cell, share }) => sum + share * field[cell]!, 0);
    const { x, y, name = `place ${k + 1}` } = place;
    return { name, temperature, at: { x, y }, over, cells };
  });
  const twice = found.find(({ name }, k) => found.findIndex((each) => each.name === name) !== k);
  if (twice) throw new FieldError("places", "a name of its own for each place", twice.name);

  const linear = powerConductor(1, 1);
  const nothing = { kind: "uniform", power: 0 } as const;
  const columns = found.map((heated) => {
    const map =
      "over" in heated ? { kind: "rectangle" as const, power: 1, over: heated.over } : nothing;
    const unit = condensed.body(linear, map);
    const heat = new Float64Array(network.nodeNames.length);
    if ("node" in heated) heat[heated.node] = 1;
    else for (const [p, node] of contacts.entries()) heat[node] = unit.outflow[p]!;
    const rise = adjoint.response(heat);
    const theta = condensed.field(
      unit,
      contacts.map((node, p) => slopes[p]! * rise[node]!),
    ).theta;
    return found.map((warmed) =>
      "node" in warmed
        ? rise[warmed.node]!
        : warmed.cells.reduce(
            (sum, { cell, share }) =>
              sum + (share * theta[cell]!) / body.law.conductance(field[cell]!),
            0,
          ),
    );
  });
  return new Influence({
    name: mount.name,
    places: found.map(({ name, temperature, ...rest }) => ({
      name,
      temperature,
      ...("at" in rest && { at: rest.at }),
    })),
    rises: found.map((_, i) => columns.map((column) => column[i]!)),
    warnings: pointWarnings(point),
    provenance: () => provenanceOf(point),
  });
}
