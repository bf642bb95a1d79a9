import { describe, expect, it } from "vitest";
import { withField } from "../../../src/design/field.js";
import { contactGroups } from "../../../src/mount/assemble.js";
import { drawnParts } from "../../../src/mount/mount.js";
import { readMount } from "../../../src/mount/read.js";
import { drawn } from "./films.js";
import {
  area,
  conductorOf,
  count,
  itBalances,
  itReads,
  itTouches,
  length,
  maybe,
  name,
  number,
  purity,
  smallest,
} from "./smallest.js";

const mount = smallest({ glue: { glue: "epoxy", area: 1e-6, thickness: 3e-5, count: 2 } });
const layer = smallest({ glue: { material: "gold", area: 1e-6, thickness: 3e-5 } });
const spots = { area, count: maybe(count), sample: maybe(name) };
const G = (changed: typeof mount) => conductorOf(changed, "glue").conductance(0.2);

describe("glue", () => {
  itReads(mount, "glue", {
    ...spots,
    glue: undefined,
    thickness: maybe(length),
    places: undefined,
  });
  itReads(layer, "glue", {
    ...spots,
    material: undefined,
    thickness: length,
    boundaryResistance: maybe(
      number(
        'a boundary resistance times T³ such as "20 cm^2 K^4/W" or a number in m^2 K^4/W',
        1e-3,
        0,
        -1,
      ),
    ),
    residualResistivityRatio: maybe(purity),
    places: undefined,
  });
  itBalances(mount);
  itTouches(mount, ["glue"]);

  it("is of the table or of a material, no larger than the die, as many spots as places", () => {
    const glue = (fields: object) => () =>
      readMount({ ...mount, glue: { ...mount.glue, ...fields } });
    expect(glue({ material: "gold" })).toThrow(
      'glue: expected only one of glue, material, got "glue and material"',
    );
    expect(glue({ glue: undefined })).toThrow(
      "glue: expected an object with one of glue, material",
    );
    expect(glue({ area: 9e-6 })).toThrow(
      'glue.area: expected at most the die\'s face in all, 1.6e-5 m^2, got 0.000009 (9e-6 m^2)',
    );
    expect(glue({ places: [{ x: 2e-3, y: 2e-3 }] })).toThrow(
      "glue.count: expected as many as there are places, 1, got 2",
    );
  });

  it("is two boundaries and a bulk in series, or a law by its area", () => {
    // data/joints/glue.csv: epoxy r = 0.0015 m² K⁴/W at each face, κ = 0.039 W/(m K) (T/1 K)^1.9 between.
    const [faces, bulk] = [(2 * 0.0015) / 0.2 ** 3, 3e-5 / (0.039 * 0.2 ** 1.9)];
    expect(G(mount) / (1e-6 / (faces + bulk))).toBeCloseTo(1, 6);
    expect(conductorOf(mount, "glue").count).toBe(2);
    const fast = withField(mount, "glue.glue", "fast epoxy");
    expect(G(fast) / (1.32e3 * 1e-6 * 0.2 ** 3)).toBeCloseTo(1, 10);
  });

  it("spreads its spots over the die in rows", () => {
    const [group] = contactGroups(readMount(mount));
    expect(group!.field(0)).toBe("glue.places");
    const { places } = drawn(drawnParts(readMount(mount)), "glue")!;
    // Two spots of 1 mm² on a square of 4 mm stand above each other, each in the middle of a half.
    const at = (bottom: number) => ({ left: 1.5e-3, right: 2.5e-3, bottom, top: bottom + 1e-3 });
    for (const [k, each] of [at(0.5e-3), at(2.5e-3)].entries()) {
      for (const side of ["left", "right", "bottom", "top"] as const)
        expect(places[k]![side]).toBeCloseTo(each[side], 12);
    }
  });

  it("is drawn spot by spot", () => {
    const part = drawn(drawnParts(readMount(mount)), "glue")!;
    expect(part.places).toHaveLength(2);
    expect(part.name).toBe("2 spots of glue");
    expect(part.details).toEqual(["epoxy", "1 mm² each, 30 µm thick", "under the die"]);
  });
});
