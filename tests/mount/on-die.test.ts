import { describe, expect, it } from "vitest";
import type { Conductor } from "../../src/conductor.js";
import {
  drawnOn,
  fieldOn,
  lawOn,
  nameOn,
  ofDie,
  ownDie,
  ownKeys,
  partsOn,
  seenFrom,
} from "../../src/mount/on-die.js";
import { boxByDie, type Contacts, type Parts } from "../../src/mount/thing.js";
import { FieldError, UnknownNameError } from "../../src/units/errors.js";

const flat = { left: 0, right: 1, bottom: 0, top: 1 };
const mount = {
  name: "two dies",
  stage: 0.1,
  die: { width: 4, model: "one node" },
  pads: { width: 1 },
  loads: ["light"],
  dies: { carrier: { die: { width: 9 }, bonds: { count: 3 } } } as Record<string, object>,
};
type Seen = typeof mount & { readonly bonds?: { readonly count: number } };
const seen = seenFrom<object>(mount, "carrier") as Seen;

describe("a mount seen from a further die", () => {
  it("has that die's things in the place of its own, all else the same, and one model for all", () => {
    expect(seen.die.width).toBe(9);
    expect(seen.die.model).toBe("one node");
    expect(seen.bonds).toEqual({ count: 3 });
    expect([seen.pads, seen.loads]).toEqual([undefined, []]);
    expect([seen.stage, seen.name, seen.dies]).toEqual([0.1, "two dies", mount.dies]);
    expect(seenFrom(mount)).toBe(mount);
    expect(seenFrom<object>(mount, "carrier")).toBe(seen);
    expect(Object.keys(ownKeys(seen))).toEqual(["die", "loads", "bonds"]);
    expect(ownKeys(undefined)).toEqual({});
  });

  it("is read as the mount then is", () => {
    const changing = { die: { model: "sheet" }, dies: { top: { bonds: { count: 1 } } } };
    const view = seenFrom<object>(changing, "top") as Seen;
    changing.dies.top.bonds = { count: 7 };
    expect(view.bonds!.count).toBe(7);
  });

  it("has names and fields of its die, and those that all dies share as they are", () => {
    expect([nameOn("carrier", "bonds"), nameOn(ownDie, "bonds")]).toEqual([
      "carrier: bonds",
      "bonds",
    ]);
    expect(fieldOn("carrier", "patches[2].width")).toBe("dies.carrier.patches[2].width");
    expect([fieldOn("carrier", "stage"), fieldOn(ownDie, "bonds.count")]).toEqual([
      "stage",
      "bonds.count",
    ]);
    const part = { kind: "die", look: "die", name: "die", details: [], places: [] } as const;
    expect(drawnOn("carrier", part)).toMatchObject({ name: "carrier", die: "carrier" });
    expect(drawnOn("carrier", { ...part, kind: "film", name: "pads" }).name).toBe("carrier: pads");
  });

  it("has its errors by the fields of the mount, and lets others pass", () => {
    const failing = (error: Error) => () =>
      ofDie(mount, "carrier", () => {
        throw error;
      });
    expect(failing(new FieldError("pads.width", "a length", 0))).toThrow(
      "dies.carrier.pads.width: expected a length, got 0",
    );
    expect(failing(new UnknownNameError("box.material", "material", "tin", []))).toThrow(
      'box.material: material "tin" is not known',
    );
    const other = new Error("lost");
    expect(failing(other)).toThrow(other);
    expect(ofDie(mount, "carrier", ({ die }) => die.width)).toBe(9);
  });

  it("names the die in what is given and in ranges of its things, not in rows of the catalogue", () => {
    const given = { quantity: "bonds: length", value: 1, unit: "m", source: "given" };
    const row = { ...given, quantity: "gold: resistivity", source: "someone1999" };
    const range = (of: string) => ({ of, from: 0, to: 1, outside: "warn" as const });
    const law = {
      conductance: () => 1,
      provenance: [given, row],
      ranges: [range("pads: 5 nm of gold"), range("gold: fit")],
    } as unknown as Conductor;
    const { provenance, ranges } = lawOn("carrier", law);
    expect(provenance!.map(({ quantity }) => quantity)).toEqual([
      "carrier: bonds: length",
      "gold: resistivity",
    ]);
    expect(ranges!.map(({ of }) => of)).toEqual(["carrier: pads: 5 nm of gold", "gold: fit"]);
    expect(lawOn("carrier", { provenance: [] })).not.toHaveProperty("ranges");
  });

  it("has every part of a thing: contacts, bands, paths and stores", () => {
    const contacts: Contacts<Seen> = {
      name: "pads",
      layer: "face",
      field: (k) => `pads[${k}]`,
      bands: ({ die }) => [{ ...flat, right: die.width }],
      lay: ({ die }) => ({
        patches: [{ area: { ...flat, right: die.width }, share: 1, bonds: 2 }],
      }),
    };
    const parts: Parts<Seen> = {
      contacts: [contacts],
      paths: [
        {
          name: "bonds",
          from: { on: contacts },
          to: boxByDie,
          conductor: ({ die }) => ({ conductance: () => die.width }) as unknown as Conductor,
          count: ({ bonds }) => bonds!.count,
        },
        {
          name: "lead",
          from: { held: "warm end", temperature: ({ die }) => die.width },
          to: { behind: contacts, place: "pad foot" },
          conductor: () => ({}) as Conductor,
        },
      ],
      stores: [
        {
          name: "body",
          at: { alone: "body" },
          field: "bodies[0]",
          store: ({ die }) => ({ heatCapacity: () => die.width }) as never,
        },
      ],
    };
    const found = partsOn("carrier", parts);
    const [group] = found.contacts;
    expect([group!.die, group!.field(1)]).toEqual(["carrier", "dies.carrier.pads[1]"]);
    expect(group!.lay(mount).patches[0]!.area).toEqual({ ...flat, right: 9 });
    expect(group!.bands!(mount)).toEqual([{ ...flat, right: 9 }]);
    const [bonds, lead] = found.paths;
    // Ends by which the structure tells places apart are the same each time.
    expect(bonds!.from).toEqual({ on: group });
    expect(partsOn("carrier", parts).contacts[0]).toBe(group);
    expect(bonds!.to).toBe(boxByDie);
    expect([bonds!.name, bonds!.count!(mount)]).toEqual(["carrier: bonds", 3]);
    expect(bonds!.conductor(mount, undefined as never).conductance(1)).toBe(9);
    expect(lead!.to).toEqual({ behind: group, place: "carrier: pad foot" });
    expect((lead!.from as { temperature(m: unknown): number }).temperature(mount)).toBe(9);
    const [store] = found.stores;
    expect([store!.name, store!.at, store!.field]).toEqual([
      "carrier: body",
      { alone: "carrier: body" },
      "dies.carrier.bodies[0]",
    ]);
    expect(store!.store(mount, undefined as never).heatCapacity(1)).toBe(9);
  });
});
