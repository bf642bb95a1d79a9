import { describe, expect, it } from "vitest";
import { Assembly, groupsOn } from "../../src/mount/assembly.js";
import { readMount } from "../../src/mount/read.js";
import { flipChip } from "./flip-chip.js";
import { catalogue, padded, smallest } from "./things/smallest.js";

const plain = readMount(smallest({ ...padded, limit: { rise: 5e-3 } }));
const assembled = () => new Assembly(plain, catalogue, { die: "one node" });

/** The conductors of some paths, as they are now. */
function conductors(model: Assembly, ...names: readonly string[]) {
  const { structure, numbers } = model;
  return names.map((name) =>
    numbers.conductor(structure.paths.find((path) => path.name === name)!),
  );
}

describe("a mount assembled", () => {
  it("makes anew what a changed field touches, and nothing else", () => {
    const model = assembled();
    model.vary("bonds.length");
    const [bonds, coupling] = conductors(model, "bonds", "electron-phonon coupling");
    model.set("bonds.length", 4e-3);
    expect(model.value("bonds.length")).toBe(4e-3);
    const [longer, same] = conductors(model, "bonds", "electron-phonon coupling");
    // Twice the length, half the conductance.
    expect(bonds!.conductance(0.1) / longer!.conductance(0.1)).toBeCloseTo(2, 10);
    expect(same).toBe(coupling);
    model.set("bonds.length", 2e-3);
    expect(conductors(model, "bonds")[0]).toBe(bonds);
    expect(plain.bonds!.length).toBe(2e-3);
  });

  it("sets a field that it was not told of before", () => {
    const model = assembled();
    model.vary("bonds.length");
    model.set("box.pathLength", 2e-2);
    expect([model.value("box.pathLength"), model.value("bonds.length")]).toEqual([2e-2, 2e-3]);
  });

  it("takes another mount of its structure, with its limit and its loads", () => {
    const model = assembled();
    expect(model.limit!(0.1)).toBeCloseTo(0.105, 12);
    const loads = [{ kind: "given", power: 3e-9 } as const];
    model.take({ ...plain, limit: { temperature: 0.2 }, loads }, catalogue);
    expect(model.limit!(0.1)).toBe(0.2);
    expect(model.heats().map(({ load }) => load.power)).toEqual([3e-9]);
    model.take({ ...plain, limit: undefined as never }, catalogue);
    expect(model.limit).toBeUndefined();
  });

  it("has all its heat in its network, on the nodes of a simple die or in the body of another", () => {
    const loads = [
      { kind: "given", power: 1e-9 },
      { kind: "given", name: "lamp", power: 2e-9, on: "box" },
    ] as const;
    const mount = readMount(smallest({ ...padded, loads }));
    const heat = (die: "one node" | "sheet") => {
      const { nodes, bodies } = new Assembly(mount, catalogue, { die }).describe().network;
      return {
        onNodes: nodes.filter(({ load }) => load).map(({ name, load }) => [name, load]),
        // What a body gives to its contacts where all of these are equally warm.
        inBody: bodies?.map(({ body }) => body.outflow.reduce((sum, part) => sum + part, 0)),
      };
    };
    expect(heat("one node").onNodes).toEqual([
      ["die", 1e-9],
      ["box by the die", 2e-9],
    ]);
    const { onNodes, inBody } = heat("sheet");
    expect(onNodes).toEqual([["box by the die", 2e-9]]);
    expect(inBody![0]! / 1e-9).toBeCloseTo(1, 10);
  });

  it("lists every law of heat that flows; squares of dies and films where these are resolved", () => {
    const joint = { faces: "gold-plated copper on gold-plated copper", force: 100 };
    const film = { material: "gold", thickness: 1e-6, residualResistivityRatio: 5 };
    const stage = { dilution: { circulation: 3e-4, base: 0.02 } };
    const mount = readMount(smallest({ back: { film, joint }, stage }));
    const names = (die: "one node" | "sheet") => [
      ...new Assembly(mount, catalogue, { die }).laws.keys(),
    ];
    const squares = names("sheet").filter((name) => !names("one node").includes(name));
    expect(squares).toEqual(["spreading in the die", "along the back"]);
    expect(names("one node")).toContain("cooling of the stage");
  });

  it("knows the contacts of each die, and keeps cells that are to stay", () => {
    const { groups } = new Assembly(readMount(flipChip), catalogue);
    expect(groupsOn("die", groups).map(({ name }) => name)).toEqual(["bumps"]);
    expect(groupsOn("carrier", groups).map(({ name }) => name)).toContain("pads");
    expect(groupsOn("second", groups)).toEqual([]);
    const fixed = new Assembly(plain, catalogue, { cells: new Map([["die", 32]]) });
    expect(plain.die.cells).toBe(16);
    expect(fixed.describe().die!.condensed.grid.cellsX).toBe(32);
  });
});
