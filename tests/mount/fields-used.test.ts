/** No numeric field of a mount is read and then left unused. */
import { describe, expect, it } from "vitest";
import { withField } from "../../src/design/field.js";
import { MountModel } from "../../src/mount/model.js";
import type { Mount } from "../../src/mount/mount.js";
import { powerMap } from "../../src/mount/power-map.js";
import { numbersOf, readMount } from "../../src/mount/read.js";
import { limitOf } from "../../src/mount/things/limit.js";
import { stageModel } from "../../src/mount/things/stage.js";
import { exampleMount } from "./example.js";
import { exampleMounts } from "./example-mounts.js";
import { catalogue, dieModels } from "./things/smallest.js";

const temperatures = [0.08, 0.12, 0.3];

/** Every number that a mount's network is made of. */
function madeOf(mount: Mount): string {
  const plain = readMount(mount);
  const stage = stageModel(plain, catalogue);
  const cooling =
    "cooling" in stage
      ? [stage.cooling.base, ...temperatures.map((T) => stage.cooling.conductor.integral(T))]
      : [stage.temperature];
  const perDie = dieModels.map((die) => {
    const model = new MountModel(plain, catalogue, { die });
    const { structure, numbers } = model;
    const paths = [...structure.paths, ...structure.warm].map((path) => {
      const { conductance, integral } = numbers.conductor(path);
      return [numbers.count(path), ...temperatures.flatMap((T) => [conductance(T), integral(T)])];
    });
    const onSheet = model.isResolved && [
      numbers.dieSquare().integral(0.1),
      ...[...model.groups.values()].map(({ contacts, links }) => [contacts, links]),
      ...[...model.groups.keys()].map(({ film }) => film?.square(plain, catalogue).integral(0.1)),
      plain.die.cells,
      ...Object.values(plain.dies ?? {}).map(({ die }) => die.cells),
    ];
    const stores = structure.stores.map(({ store }) => store(plain, catalogue).heatCapacity(0.1));
    const warm = structure.warm.map((wire) => wire.temperature(plain));
    return [paths, onSheet, stores, warm];
  });
  const model = new MountModel(plain, catalogue, { die: "one node" });
  const loads = model
    .heats(new Map(model.structure.dies.map(({ name }) => [name, 0.2])))
    .map(({ load, source }) => [load.power, powerMap(source.map(plain), 1), source.coldEnd(plain)]);
  // Rounding is no change.
  return JSON.stringify([perDie, loads, cooling, limitOf(plain, catalogue)?.(0.1)], (_, made) =>
    typeof made === "number" ? Number(made.toPrecision(10)) : made,
  );
}

/** A value next to a field's own that the mount takes. */
function moved(mount: Mount, field: string, value: number, whole: boolean): Mount {
  const next = whole
    ? [value + 1, 2 * value]
    : [1.01 * value + (value === 0 ? 1e-9 : 0), 0.99 * value];
  for (const other of next) {
    const changed = withField(mount, field, other);
    try {
      readMount(changed);
      return changed;
    } catch {}
  }
  throw new Error(`${field} takes no other value`);
}

/** Fields that change no number of the network, and why. */
const unused: Readonly<Record<string, string>> = {
  // Quality factors follow from conductivities over that of the normal state, in which N₀ cancels.
  "limit 2: limit.resonator.superconductor.densityOfStates": "counts where a density is the limit",
  "load 11, readout: loads.0.resonator.superconductor.densityOfStates":
    "counts where a density is the limit",
  // What a tilted die shows less of, it is longer to cross: single hits change, their mean heat does not.
  "load 12, muons: loads.0.tilt": "changes single hits only",
  // The power of a lamp is given; these tell how many photons it is, and on how many pixels.
  "load 15, lamp: loads.0.wavelength": "counts photons only",
  "load 15, lamp: loads.0.pixels": "counts photons only",
  // The power of a feed line is that of all its tones.
  "load 18, readout: loads.0.lines.0.tones": "the power of the line is given",
  "load 18, readout: loads.0.lines.1.tones": "the power of the line is given",
  // It stands beside the others, joined to none: no heat knows how far away.
  "a chip on a carrier: dies.second.offset.x": "says where it lies in the drawing",
  "a chip on a carrier: dies.second.offset.y": "says where it lies in the drawing",
  // All light that comes through is heat; the band says which of it is wanted.
  "load 16, radiation: loads.0.band.from": "parts the heat in two",
  "load 16, radiation: loads.0.band.to": "parts the heat in two",
};

describe("every number of a mount", () => {
  const all: Readonly<Record<string, Mount>> = { "the example": exampleMount(), ...exampleMounts };
  it.each(Object.entries(all))("changes what the mount is made of: %s", (name, mount) => {
    const before = madeOf(mount);
    const fields = [...numbersOf(mount).values()].filter(
      ({ field }) => !name.startsWith("load ") || field.startsWith("loads."),
    );
    const idle = fields.filter(
      ({ field, value, whole }) => madeOf(moved(mount, field, value, whole)) === before,
    );
    const named = idle.map(({ field }) => `${name}: ${field}`);
    expect(named).toEqual(Object.keys(unused).filter((each) => each.startsWith(`${name}: `)));
  });
});
