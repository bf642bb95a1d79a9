import { describe, expect, it } from "vitest";
import { faceShares, plateSpecularity } from "../../../src/mount/things/finish.js";
import { catalogue } from "./smallest.js";

describe("the finish of a die", () => {
  it("reflects what its row of data/joints/face.csv does not scatter, and nothing where none is given", () => {
    const { front, back, sides, provenance } = faceShares(
      { finish: { front: "polished", back: "etched" } },
      catalogue,
    );
    expect([front, back, sides]).toEqual([0.9, expect.closeTo(0.1, 12), 0]);
    expect(provenance.map(({ source }) => source)).toEqual([
      expect.stringMatching(/Klitsner/),
      expect.stringMatching(/Soffer/),
    ]);
    const none = faceShares({}, catalogue);
    expect(none).toEqual({ front: 0, back: 0, sides: 0, provenance: [] });
  });

  it("is as given on all faces, which goes before it", () => {
    const own = { specularity: 0.3, finish: { front: "polished" } };
    expect(faceShares(own, catalogue)).toMatchObject({ front: 0.3, back: 0.3, sides: 0.3 });
    expect(faceShares(own, catalogue).provenance[0]).toMatchObject({ value: 0.3, source: "given" });
  });

  it("of both large faces is taken by a sheet in the mean", () => {
    const finish = { front: "polished", back: "lapped", sides: "polished" };
    expect(plateSpecularity({ finish }, catalogue)).toBeCloseTo((0.9 + 0) / 2, 12);
  });

  it("is told once for faces that are alike, and refused by its field", () => {
    const all = { front: "lapped", back: "lapped", sides: "lapped" };
    expect(faceShares({ finish: all }, catalogue).provenance).toHaveLength(1);
    expect(() => faceShares({ finish: { sides: "laped" } }, catalogue)).toThrow(
      'die.finish.sides: finish of a face "laped" is not known, did you mean "lapped"?',
    );
  });

  it("never scatters more than all, at whatever end of its spread", () => {
    const rough = catalogue.rows().filter(({ quantity }) => /\blapped\b/.test(quantity));
    expect(rough.length).toBeGreaterThan(0);
    const more = catalogue.withFactors(new Map(rough.map(({ key }) => [key, 1.1])));
    expect(faceShares({ finish: { front: "lapped" } }, more).front).toBe(0);
  });
});
