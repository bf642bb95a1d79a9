/** A 2-D die seen from its contacts, against the whole model of it. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { mergedMount } from "../../../src/design/confidence/merged-mount.js";
import { Inputs } from "../../../src/design/confidence/uncertain-inputs.js";
import { uncertainMount } from "../../../src/design/confidence/uncertain-mount.js";
import type { Mount } from "../../../src/index.js";
import { standardCatalogue } from "../../../src/materials/standard.js";
import { MountModel } from "../../../src/mount/model.js";
import { readMount } from "../../../src/mount/read.js";
import { random } from "../../../src/numerics/random.js";
import { spread } from "../../../src/units/spread.js";
import { flipChip } from "../../mount/flip-chip.js";
import { randomSheet } from "../../mount/random-mount.js";
import { amplifier, camera, clamped } from "./uncertain-mounts.js";

const catalogue = standardCatalogue();

function merged(mount: Mount, fields: readonly string[] = []) {
  const model = new MountModel(readMount(mount), catalogue);
  const point = model.point();
  const found = mergedMount(
    model,
    point.stage,
    fields.map((field) => ({ field })),
  );
  return { found, nodes: point.network.nodes.length };
}

/** Largest difference from the whole model at random values, in parts of the rise. */
function worst(mount: Mount, { samples = 3, bonds }: { samples?: number; bonds?: number } = {}) {
  const compiled = uncertainMount(mount);
  const fast = bonds === undefined ? compiled : compiled.withBonds(bonds);
  const inputs = new Inputs(compiled.inputs, readMount(mount), catalogue);
  const stream = random(31);
  let most = 0;
  for (let k = 0; k < samples; k++) {
    const values = Float64Array.from(compiled.inputs, ({ quantile }) => quantile(stream.uniform()));
    const { chip, stage } = fast.evaluate(values);
    const { mount: plain, catalogue: data } = inputs.at(values);
    const counted =
      bonds === undefined ? plain : { ...plain, bonds: { ...plain.bonds!, count: bonds } };
    const own = new MountModel(counted, data).point();
    most = Math.max(most, Math.abs((chip - stage) / (own.chip - own.stage) - 1));
  }
  return most;
}

describe("a 2-D die seen from its contacts", () => {
  it("is as warm as the whole one, with other numbers of bonds too", () => {
    expect(worst(clamped, { samples: 2 })).toBeLessThan(1e-9);
    expect(worst(camera, { samples: 2, bonds: 31 })).toBeLessThan(1e-9);
    expect(worst(amplifier, { bonds: 31 })).toBeLessThan(1e-9);
  });

  it("is so for a chip on a carrier, whose bumps join contacts of both", () => {
    const mount: Mount = {
      ...flipChip,
      loads: [{ kind: "given", power: spread("0.5 nW", "2 nW") }],
    };
    expect(merged(mount, ["loads.0.power"]).found!.dies).toHaveLength(2);
    expect(worst(mount)).toBeLessThan(1e-9);
  });

  it("is so for pads, rings, backs and glue under any map", () => {
    let solved = 0;
    for (const mount of fc.sample(randomSheet, { seed: 18, numRuns: 12 })) {
      const even = { ...mount, loads: mount.loads.filter(({ kind }) => kind === "millimetre") };
      const { limit: _, ...given } = even.loads.length > 0 ? even : { ...even, loads: [load] };
      let found: ReturnType<typeof merged>["found"];
      try {
        found = merged(given).found;
      } catch {
        // Some of these have no steady state.
        continue;
      }
      if (!found) continue;
      expect(worst(given, { samples: 1 })).toBeLessThan(1e-7);
      solved++;
    }
    expect(solved).toBeGreaterThan(4);
  });

  it("has few nodes where many are alike, and more where a spot breaks that", () => {
    const four = { ...camera, bonds: { ...camera.bonds!, count: 80 } };
    const { found, nodes } = merged(four);
    // Twenty pads an edge: mirrored ten, on two kinds of edges at most.
    expect(found!.dies[0]!.terminals.length).toBeLessThanOrEqual(20);
    expect(found!.network.nodes.length).toBeLessThan(nodes / 3);
    // A spot on the middle line leaves one mirror: of 24 pads two are on it.
    expect(merged(amplifier).found!.dies[0]!.terminals).toHaveLength(13);
    const [only] = amplifier.loads;
    const off = { ...only!, map: { kind: "spot", x: "3 mm", y: "3.7 mm", radius: "0.4 mm" } };
    const skew = { ...amplifier, loads: [off] } as Mount;
    expect(merged(skew).found!.dies[0]!.terminals).toHaveLength(24);
  });

  it("is left to the whole model where contacts or maps move, phonons fly, or loads follow it", () => {
    expect(merged(camera, ["pads.width"]).found).toBeUndefined();
    expect(merged(amplifier, ["loads.0.map.x"]).found).toBeUndefined();
    expect(merged(amplifier, ["pads.thickness", "die.thickness"]).found).toBeDefined();
    const flights: Mount = { ...amplifier, die: { ...amplifier.die, model: "flights", rays: 500 } };
    expect(merged(flights).found).toBeUndefined();
    const follows: Mount = {
      ...amplifier,
      loads: [
        {
          kind: "readout",
          tones: 100,
          powerPerTone: "1 pW",
          couplingQuality: 3e4,
          resonator: {
            superconductor: "aluminium",
            frequency: "4 GHz",
            kineticInductanceFraction: 0.1,
            otherQuality: 1e6,
          },
        },
      ],
    };
    expect(merged(follows).found).toBeUndefined();
    const wide: Mount = {
      ...amplifier,
      pads: { ...amplifier.pads!, width: spread("180 um", "220 um") },
    };
    expect(worst(wide, { samples: 1 })).toBeLessThan(1e-12);
  });
});

const load = { kind: "given", power: 1e-9 } as const;
