import { describe, expect, it } from "vitest";
import { heatsOf } from "../../src/mount/assemble.js";
import type { Mount } from "../../src/mount/mount.js";
import { readMount } from "../../src/mount/read.js";
import { allSources } from "../../src/mount/sources.js";
import type { MountLoad } from "../../src/mount/things/load.js";
import { catalogue, smallest } from "./things/smallest.js";

const die = { material: "silicon", width: 4e-3, length: 4e-3, thickness: 3e-4 } as const;
const clamps = [{ faces: "sapphire on silicon", force: 2.7 }];
const light = { kind: "given", name: "light", power: 1e-9 } as const;
const spot = { kind: "spot", x: 1e-3, y: 2e-3, radius: 1e-4 } as const;
const tones = { kind: "readout", tones: 100, powerPerTone: 1e-11 } as const;
// 2Qr²/(QiQc) with Qr = QiQc/(Qi + Qc): 5/18 for Qi = 2e5, Qc = 4e4.
const fixed = { ...tones, internalQuality: 2e5, couplingQuality: 4e4 };
const resonator = {
  superconductor: "aluminium",
  frequency: "5 GHz",
  kineticInductanceFraction: 0.1,
  otherQuality: 1e6,
} as const;

const two = (own: readonly MountLoad[], further: readonly MountLoad[]): Mount =>
  smallest({
    die: { ...die, model: "one node" },
    clamps,
    loads: own,
    dies: { second: { die, clamps, loads: further, offset: { x: 6e-3, y: 0 } } },
  });

describe("heat sources of several dies", () => {
  it("have names, fields and places of their die; those on the box are the box's", () => {
    const lamp = { ...light, name: "lamp", on: "box" } as const;
    const mount = readMount(two([light], [light, lamp, { ...light, name: "spot", map: spot }]));
    const sources = allSources(mount);
    expect(sources.map(({ name, field, on }) => [name, field, on])).toEqual([
      ["light", "loads[0]", "die"],
      ["second: light", "dies.second.loads[0]", "second"],
      ["second: lamp", "dies.second.loads[1]", "box"],
      ["second: spot", "dies.second.loads[2]", "second"],
    ]);
    expect(sources.map(({ map }) => map(mount))).toEqual([undefined, undefined, undefined, spot]);
    expect(sources[3]!.heat(mount, catalogue, 0.1)).toMatchObject({
      name: "second: spot",
      power: 1e-9,
    });
  });

  it("are read of their own die: readout beside a readout that warms with its chip", () => {
    const warming = { ...tones, couplingQuality: 4e4, resonator } as const;
    const powers = (mount: Mount) => {
      const plain = readMount(mount);
      const heats = heatsOf(allSources(plain), plain, catalogue, 0.1);
      return heats.map(({ load }) => [load.name, load.power] as const);
    };
    const [own, further] = powers(two([warming], [fixed]));
    expect(further).toEqual(["second: readout", expect.closeTo((100e-11 * 5) / 18, 16)]);
    expect(own![1]).toBeLessThan(further![1]);
    // More loads than the mount's own die has.
    expect(powers(two([light], [light, fixed])).at(-1)).toEqual(further);
  });
});
