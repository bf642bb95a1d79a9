import { describe, expect, it } from "vitest";
import {
  checkPlaces,
  place,
  places,
  refuseTooMany,
  spots,
  square,
  squares,
} from "../../../src/mount/things/spots.js";

describe("spots on a die", () => {
  it("are as many as their places, as their count, or one", () => {
    expect(spots({ places: [{}, {}], count: 2 })).toBe(2);
    expect(spots({ count: 3 })).toBe(3);
    expect(spots({})).toBe(1);
  });

  it("need a count that agrees with the places", () => {
    expect(() => checkPlaces("glue", { places: [1], count: 1 })).not.toThrow();
    expect(() => checkPlaces("glue", { places: [1] })).not.toThrow();
    expect(() => checkPlaces("glue", { count: 4 })).not.toThrow();
    expect(() => checkPlaces("glue", { places: [], count: 1 })).toThrow(
      "glue.count: expected as many as there are places, 0, got 1",
    );
  });

  it("are at most a thousand", () => {
    expect(() => refuseTooMany("glue.count", 1000)).not.toThrow();
    expect(() => refuseTooMany("glue.count")).not.toThrow();
    expect(() => refuseTooMany("glue.count", 1001)).toThrow(
      "glue.count: expected at most 1000 on a 2-D die, got 1001",
    );
  });

  it("are squares around their middles, with equal shares", () => {
    const found = square({ x: 2e-3, y: 1e-3 }, 1e-3);
    expect(found).toEqual({
      left: 1.5e-3,
      right: 2.5e-3,
      bottom: expect.closeTo(5e-4, 12),
      top: 1.5e-3,
    });
    const three = squares(
      [1, 2, 3].map((x) => ({ x, y: 1 })),
      0.5,
    );
    expect(three.map(({ share, bonds }) => [share, bonds])).toEqual(
      Array.from({ length: 3 }, () => [1 / 3, 0]),
    );
  });

  it("are read as lengths of 0 or more", () => {
    expect(places.read([{ x: "1 mm", y: 0 }], "at")).toEqual([{ x: 1e-3, y: 0 }]);
    expect(() => place.read({ x: "1 mm", y: -1 }, "at")).toThrow(
      'at.y: expected a length such as "25 um" or a number in metres, 0 or more, got -1',
    );
    expect(() => place.read({ x: "1 mm" }, "at")).toThrow("at.y: expected a length");
    expect(() => places.read({}, "at")).toThrow("at: expected a list of one place or more, got {}");
  });
});
