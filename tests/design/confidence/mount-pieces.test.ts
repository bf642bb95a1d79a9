import { describe, expect, it } from "vitest";
import { powerConductor } from "../../../src/conductor.js";
import {
  bondCounts,
  movedBy,
  numbersOf,
  piecesOf,
  spreadOver,
} from "../../../src/design/confidence/mount-pieces.js";
import { Inputs, type UncertainInput } from "../../../src/design/confidence/uncertain-inputs.js";
import { assemble } from "../../../src/mount/assemble.js";
import { readMount } from "../../../src/mount/read.js";
import { catalogue, padded, smallest } from "../../mount/things/smallest.js";

const input = (field: string, median: number) => ({ field, median }) as UncertainInput;
const wire = {
  kind: "conduction",
  name: "lead",
  material: "nbti",
  length: 1,
  diameter: 1e-4,
  from: 0.5,
} as const;
const plain = readMount(
  smallest({ ...padded, limit: { rise: 5e-3 }, loads: [{ kind: "given", power: 1e-9 }, wire] }),
);
const inputs = new Inputs(
  [
    input("bonds.length", 2e-3),
    input("pads.thickness", 5e-7),
    input("limit.rise", 5e-3),
    input("loads.0.power", 1e-9),
    input("loads.1.from", 0.5),
  ],
  plain,
  catalogue,
);
const structure = assemble(plain, "one node");
const pieces = piecesOf(structure);

describe("a mount in pieces", () => {
  it("is every path, wire and load, its stage and its limit; squares only of a resolved die", () => {
    const kinds = pieces.map(({ kind }) => kind);
    expect(kinds.filter((kind) => kind === "conductor")).toHaveLength(
      structure.paths.length + structure.warm.length,
    );
    expect(kinds.filter((kind) => kind !== "conductor")).toEqual([
      "warm end",
      "load",
      "stage",
      "limit",
    ]);
    const resolved = piecesOf(assemble(plain, "sheet")).map(({ name }) => name);
    expect(resolved).toContain("spreading in the die");
    expect(pieces.map(({ name }) => name)).not.toContain("spreading in the die");
  });

  it("is moved piece by piece by the inputs that each reads", () => {
    const fields = (name: string, kind = "conductor") => {
      const piece = pieces.find((each) => each.name === name && each.kind === kind)!;
      return movedBy(piece, inputs, [0.1, 0.2]).map((i) => inputs.list[i]!.field);
    };
    expect(fields("bonds")).toEqual(["bonds.length"]);
    expect(fields("electron-phonon coupling")).toEqual(["pads.thickness"]);
    expect(fields("box wall")).toEqual([]);
    expect(fields("limit", "limit")).toEqual(["limit.rise"]);
    expect(fields("given", "load")).toEqual(["loads.0.power"]);
    expect(fields("lead", "warm end")).toEqual(["loads.1.from"]);
  });

  it("is moved by a row of the catalogue that its numbers follow, and by no other that it reads", () => {
    const rows = catalogue
      .rows()
      .filter(({ quantity }) => /^(gold: electron-phonon|nbti)/.test(quantity));
    const list = rows.map(({ key, value }) => ({ row: key, median: value }) as UncertainInput);
    const coupling = pieces.find(({ name }) => name === "electron-phonon coupling")!;
    const moving = movedBy(coupling, new Inputs(list, plain, catalogue), [0.1, 0.2]);
    expect(moving.map((i) => rows[i]!.quantity)).toEqual([
      expect.stringMatching(/^gold: electron-phonon coupling, coefficient/),
    ]);
  });

  it("tells a conductor by G and by what Θ rises: of c T³, 3cT² and c(T₂³ − T₁³)", () => {
    expect(numbersOf(powerConductor(2, 3), [1, 2, 3])).toEqual(
      [6, 24, 14, 54, 38].map((each) => expect.closeTo(each, 10)),
    );
    expect(spreadOver(1, 16, 5)).toEqual([1, 2, 4, 8, 16].map((each) => expect.closeTo(each, 12)));
  });

  it("counts paths by bonds where these change nothing else", () => {
    const counts = bondCounts(inputs, structure)!;
    expect(counts.get("bonds")!(12)).toBe(12);
    // One bond on each pad.
    expect(counts.get("pad boundary")!(12)).toBe(12);
    expect(counts.has("box wall")).toBe(false);
  });
});
