import { describe, expect, it } from "vitest";
import { withField } from "../../../src/design/field.js";
import { drawnParts } from "../../../src/mount/mount.js";
import { readMount } from "../../../src/mount/read.js";
import { drawn, filmFields } from "./films.js";
import {
  conductorOf,
  debye,
  goldSlope,
  itBalances,
  itReads,
  itTouches,
  length,
  maybe,
  modelOf,
  purityFrom300,
  siliconOnGold,
  smallest,
  storeOf,
} from "./smallest.js";

const film = { material: "gold", thickness: 1e-6, residualResistivityRatio: purityFrom300(5) };
const joint = { faces: "gold-plated copper on gold-plated copper", force: 100 };
const mount = smallest({ back: { film, joint, frame: 5e-4 } });

describe("a pressed back", () => {
  itReads(mount, "back", { film: undefined, joint: undefined, frame: maybe(length) });
  itReads(mount, "back.film", filmFields);
  itBalances(mount);
  itTouches(mount, ["back"]);

  it("touches in a frame of less than half the die", () => {
    expect(() => readMount(withField(mount, "back.frame", 2e-3))).toThrow(
      "back.frame: expected less than half the die, 2 mm, got 0.002 (2 mm)",
    );
  });

  it("takes heat over the frame, or over the whole back without one", () => {
    const frame = 4e-3 ** 2 - 3e-3 ** 2;
    const boundary = (changed: typeof mount) => conductorOf(changed, "back boundary").integral(0.2);
    expect(boundary(mount) / (siliconOnGold * frame * 0.2 ** 4)).toBeCloseTo(1, 8);
    const { back } = mount;
    const whole = boundary({ ...mount, back: { film: back!.film, joint } });
    expect(whole / (siliconOnGold * 4e-3 ** 2 * 0.2 ** 4)).toBeCloseTo(1, 8);
  });

  it("passes it on by its joint, and along itself by thickness and κ", () => {
    const pressed = 0.14 * (100 / 2000) ** 0.95 * 0.2;
    expect(conductorOf(mount, "pressed back").conductance(0.2) / pressed).toBeCloseTo(1, 10);
    const { numbers, groups } = modelOf(mount, "sheet");
    const [contacts] = [...groups.keys()];
    const square = numbers.filmSquare(contacts!).conductance(0.2);
    expect(square / (goldSlope(5) * 0.2 * 1e-6)).toBeCloseTo(1, 8);
  });

  it("stores heat in metal on the whole back", () => {
    const volume = 4e-3 ** 2 * 1e-6;
    const C = debye(19300, 196.967e-3, 161.8) * volume * 0.1 ** 3;
    expect(storeOf(mount, "back phonons").heatCapacity(0.1) / C).toBeCloseTo(1, 8);
  });

  it("is drawn", () => {
    expect(drawn(drawnParts(readMount(mount)), "back")!.details).toEqual([
      "gold",
      "1 µm thick",
      "RRR 5",
      "touches in a band of 500 µm",
      joint.faces,
      "pressed with 100 N",
    ]);
  });
});
