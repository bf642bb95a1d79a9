import { describe, expect, it } from "vitest";
import { withField } from "../../../src/design/field.js";
import { timeCourse } from "../../../src/mount/follow.js";
import { drawnParts } from "../../../src/mount/mount.js";
import { readMount } from "../../../src/mount/read.js";
import type { StoringBody } from "../../../src/mount/things/bodies.js";
import { drawn } from "./films.js";
import {
  catalogue,
  conductorOf,
  itBalances,
  itReads,
  itTouches,
  length,
  maybe,
  modelOf,
  name,
  oneOf,
  smallest,
  storeOf,
  temperature,
} from "./smallest.js";

const joint = { conductance: 1e-6, at: 0.1 };
const lid: StoringBody = { name: "lid", on: "box", joint, material: "copper", volume: "1 cm^3" };
const board: StoringBody = {
  name: "board",
  on: "die",
  joint,
  heatCapacity: "3 nJ/K",
  at: "100 mK",
  exponent: 3,
  place: { x: 2.5e-3, y: 1.5e-3 },
  size: 5e-4,
};
const magnet: StoringBody = { ...lid, name: "magnet", on: "stage" };
const mount = smallest({ bodies: [lid, board, magnet] });

describe("bodies that only store heat", () => {
  itReads(mount, "bodies[0]", {
    name,
    on: oneOf("die", "box", "stage"),
    joint: undefined,
    place: undefined,
    size: undefined,
    material: name,
    volume: undefined,
  });
  itReads(mount, "bodies[1]", {
    name,
    on: undefined,
    joint: undefined,
    place: undefined,
    size: maybe(length),
    heatCapacity: undefined,
    at: temperature,
    exponent: undefined,
  });
  itBalances(mount);
  itTouches(smallest({ bodies: [board] }), ["clamps", "bodies[0]"]);

  it("are as warm as what they hang on in the steady state, and change nothing there", () => {
    const point = modelOf(mount, "sheet").point();
    const bare = modelOf(smallest(), "sheet").point();
    expect(point.chip / bare.chip).toBeCloseTo(1, 9);
    const T = (place: string) => point.reading.temperatures.get(place)!;
    expect(T("lid") / T("box by the die")).toBeCloseTo(1, 9);
    expect(T("magnet") / T("stage")).toBeCloseTo(1, 9);
  });

  it("store by their material, or as measured, behind their joints", () => {
    const copper = catalogue.material("copper").heatCapacity().value(0.1);
    expect(storeOf(mount, "lid").heatCapacity(0.1) / (1e-6 * copper)).toBeCloseTo(1, 12);
    expect(storeOf(mount, "board").heatCapacity(0.2)).toBeCloseTo(2.4e-8, 18);
    expect(conductorOf(mount, "joint of lid").conductance(0.2)).toBeCloseTo(2e-6, 15);
  });

  it("keep the box warm for longer after a load: the lid comes down with C/G", () => {
    const heated = smallest({ bodies: [lid], loads: [{ kind: "given", power: "10 nW" }] });
    const course = timeCourse(
      { ...heated, die: { ...heated.die, model: "one node" } },
      { duration: "100 s", start: "150 mK" },
    );
    // 1 cm³ of copper at 0.13 K: 98 J/(m³ K²) × 0.13 K × 1e-6 m³ = 13 µJ/K behind 1.3 µW/K, so 10 s
    // (C. Kittel, Introduction to Solid State Physics: γ = 0.695 mJ/(mol K²)).
    const lidAt = (t: number) => course.temperature("lid", t);
    const box = course.temperature("box by the die", 100);
    const time = 10 / Math.log((lidAt(10) - box) / (lidAt(20) - box));
    expect(time).toBeGreaterThan(8);
    expect(time).toBeLessThan(12);
  });

  it("have names of their own, and a place only on the die", () => {
    const body = (field: string, value: unknown) => () =>
      readMount(withField(mount, `bodies.0.${field}`, value));
    expect(body("name", "stage")).toThrow(
      "bodies[0].name: expected a name that no other place has",
    );
    expect(body("name", "board")).toThrow(
      "bodies[1].name: expected a name that no other place has",
    );
    expect(body("place", { x: 1e-3, y: 1e-3 })).toThrow(
      "bodies[0].place: expected none, since it hangs on the box",
    );
  });

  it("are drawn in words, and where they cover the die", () => {
    const parts = drawnParts(readMount(mount));
    expect(drawn(parts, "bodies 0")).toMatchObject({
      name: "lid",
      details: [
        "copper, 1000 mm³",
        "on the box",
        "1 joint, 1 µW/K each at 100 mK".replace(" each", ""),
      ],
    });
    expect(drawn(parts, "bodies 1")!.places).toHaveLength(1);
  });
});
