import { describe, expect, it } from "vitest";
import { screwForce } from "../../../src/joints/screws.js";
import { drawnParts } from "../../../src/mount/mount.js";
import { readMount } from "../../../src/mount/read.js";
import type { StageJoint } from "../../../src/mount/things/joint.js";
import { drawn } from "./films.js";
import {
  catalogue,
  conductance,
  conductorOf,
  count,
  force,
  itBalances,
  itReads,
  lorenz,
  maybe,
  name,
  number,
  resistance,
  smallest,
  telling,
  temperature,
} from "./smallest.js";

const pressed = { faces: "gold-plated copper on gold-plated copper", force: 1000, count: 4 };
const by = (joint: StageJoint) => smallest({ joint });
const G = (joint: StageJoint) => conductorOf(by(joint), "joint to the stage").conductance(0.2);
const words = (joint: StageJoint) => drawn(drawnParts(readMount(by(joint))), "joint")!.details;

describe("the joint to the stage", () => {
  itReads(by(pressed), "joint", {
    faces: telling({ ...name, refused: ["", 7] }),
    force,
    sample: maybe(name),
    count: maybe(count),
  });
  itReads(by({ resistance: 1e-6 }), "joint", {
    resistance: telling(resistance),
    count: maybe(count),
  });
  itReads(by({ conductance: 1e-3, at: 0.1 }), "joint", {
    conductance: telling(conductance),
    at: temperature,
    exponent: maybe(number("an exponent of the temperature, greater than 0, at most 20", 2, 0, 21)),
    count: maybe(count),
  });
  itBalances(by(pressed));

  it("has one form", () => {
    expect(() => readMount(by({ ...pressed, resistance: 1e-6 } as never))).toThrow(
      'joint: expected only one of resistance, conductance, faces, got "resistance and faces"',
    );
    expect(() => readMount(by({ face: "copper on copper" } as never))).toThrow(
      'joint.face: field "face" is not known, did you mean "faces"?',
    );
  });

  it("conducts by its faces, by its electrical resistance, or as measured", () => {
    // data/joints/pressed.csv: 0.14 W/K at 1 K and 2 kN, by force^0.95 and T.
    expect(G(pressed) / (0.14 * 0.5 ** 0.95 * 0.2)).toBeCloseTo(1, 10);
    expect(G({ resistance: 1e-6 }) / ((lorenz * 0.2) / 1e-6)).toBeCloseTo(1, 8);
    expect(G({ conductance: 1e-3, at: 0.1 })).toBeCloseTo(2e-3, 12);
    expect(G({ conductance: 1e-3, at: 0.1, exponent: 3 })).toBeCloseTo(8e-3, 12);
    expect(conductorOf(by(pressed), "joint to the stage").count).toBe(4);
  });

  it("conducts by the force that its screws keep when cold, each a joint", () => {
    const screws = { size: "M4", torque: 1.6, nutFactor: 0.2, count: 4 };
    const { faces } = pressed;
    // 2 kN by F = T/(K d), which is the force of the table.
    expect(G({ faces, screws }) / (0.14 * 0.2)).toBeCloseTo(1, 10);
    const cold = { ...screws, clamped: [{ material: "al-6061", thickness: "8 mm" }] } as const;
    const left = screwForce(cold, catalogue).cold;
    expect(left).toBeLessThan(1500);
    expect(G({ faces, screws: cold }) / G({ faces, force: left })).toBeCloseTo(1, 12);
    const joint = conductorOf(by({ faces, screws: cold }), "joint to the stage");
    expect(joint.count).toBe(4);
    const numbers = joint.provenance!.map(({ quantity }) => quantity);
    expect(numbers).toContain("al-6061: thermal contraction");
    expect(numbers).toContain("joint.screws: torque");
    expect(words({ faces, screws })).toEqual([faces, "4 M4 screws, 1.6 N m each"]);
    const loose = { ...cold, torque: "0.2 N m" } as const;
    expect(() => conductorOf(by({ faces, screws: loose }), "joint to the stage")).toThrow(
      "joint.screws: expected screws that hold when cold",
    );
    expect(() => readMount(by({ faces, force: 1, screws } as never))).toThrow(
      'joint.force: field "force" is not known. Known: faces, sample, screws',
    );
  });

  it("is drawn in words", () => {
    expect(words(pressed)).toEqual([pressed.faces, "4 bolts, 1 kN each"]);
    expect(words({ resistance: 1e-6 })).toEqual(["1 joint, 1 µΩ"]);
    expect(words({ conductance: 1e-3, at: 0.1, count: 2 })).toEqual([
      "2 joints, 1 mW/K each at 100 mK",
    ]);
  });
});
