/** Phonons in boxes for which the answer is known, and what must hold for any box. */
import { describe, expect, it } from "vitest";
import type { FlightOptions } from "../../../src/chip/flights/box.js";
import type { FaceContact, FacePiece } from "../../../src/chip/flights/face-contacts.js";
import { Flights } from "../../../src/chip/flights/flights.js";
import { pathsOf, shardCount } from "../../../src/chip/flights/shards.js";
import { standardError } from "../../../src/chip/flights/smooth-map.js";
import type { PowerMap } from "../../../src/chip/power-map.js";
import { powerConductor } from "../../../src/conductor.js";
import { random } from "../../../src/numerics/random.js";

const law = powerConductor(1, 4);
const square = (x: number, y: number, side: number, face?: FacePiece["face"]): FacePiece => ({
  left: x - side / 2,
  right: x + side / 2,
  bottom: y - side / 2,
  top: y + side / 2,
  ...(face && { face }),
});
/** A thin die with three contacts of different sizes, one of them on its back and on a side. */
const die: FlightOptions = { width: 4, length: 3, thickness: 0.3, specularity: 0.5, rays: 4096 };
const contacts: readonly FaceContact[] = [
  { name: "pad", area: square(0.5, 0.5, 0.6) },
  { name: "post", area: square(3, 2, 0.5, "back") },
  { name: "rim", area: [square(3.5, 0.5, 0.8), { ...square(1, 0.15, 0.3), face: "left" }] },
];
const three = new Flights(die, contacts);
const even: PowerMap = { kind: "uniform", power: 2e-9 };

const endOf = (name: "left" | "right", length = 1, thickness = 1): FaceContact => ({
  name,
  area: { face: name, left: 0, right: length, bottom: 0, top: thickness },
});

describe("what any die keeps", () => {
  it("is an exchange alike in both senses, whose rows sum to 0, to the last bit", () => {
    for (const transmissions of [undefined, [0.3, 1, 0.05]]) {
      const { admittance } = three.exchange(transmissions);
      for (let i = 0; i < 3; i++) {
        let sum = 0;
        for (let j = 0; j < 3; j++) {
          sum += admittance[3 * i + j]!;
          expect(admittance[3 * i + j]).toBe(admittance[3 * j + i]);
          if (i !== j) expect(admittance[3 * i + j]).toBeLessThan(0);
        }
        expect(sum).toBe(0);
      }
    }
  });

  it("is all of its power, and one temperature where there is none", () => {
    for (const transmissions of [undefined, [0.3, 1, 0.05]]) {
      const exchange = three.exchange(transmissions);
      const body = three.body(law, even, exchange);
      const out = body.outflow.reduce((sum, each) => sum + each, 0);
      expect(out / 2e-9).toBeCloseTo(1, 13);
      const cold = three.body(law, { kind: "uniform", power: 0 }, exchange);
      expect([...three.heat(cold, [0.1, 0.1, 0.1])]).toEqual([0, 0, 0]);
      const { temperatures } = three.field(cold, [0.1, 0.1, 0.1]);
      for (const T of temperatures) expect(T).toBeCloseTo(0.1, 12);
    }
    // All phonons come to a contact.
    expect(three.source(even).met.reduce((sum, share) => sum + share, 0)).toBe(1);
  });

  it("is a mean flight of 4 V/A from black contacts, wherever they lie", () => {
    // The mean chord of a body, also with walls that scatter: S. Blanco and R. Fournier, An invariance
    // property of diffusive random walks, Europhys. Lett. 61, 168 (2003).
    const many = new Flights({ ...die, rays: 2 ** 17 }, contacts);
    const volume = 4 * 3 * 0.3;
    const means = Array.from({ length: shardCount }, (_, shard) => {
      const { paths } = many.flyShard(shard);
      const perRay = shardCount / many.raysOfTile;
      return many.tiles.reduce((sum, { area: { left, right, bottom, top } }, t) => {
        return sum + (right - left) * (top - bottom) * paths[t]! * perRay;
      }, 0);
    });
    const mean = means.reduce((sum, each) => sum + each, 0) / shardCount;
    expect(Math.abs(mean / (4 * volume) - 1)).toBeLessThan(0.02);
    expect(Math.abs(mean - 4 * volume)).toBeLessThan(3 * standardError(means));
  });

  it("is its temperature map's mean, that of the time that phonons spend in it", () => {
    const { rise, meanPath, meanPathError } = three.source(even);
    const mean = rise.cells.reduce((sum, cell) => sum + cell, 0) / three.grid.cells;
    // P ℓ/(4σV), in units of σ S T⁴ of the front.
    expect(mean / ((meanPath * three.unit) / (4 * 4 * 3 * 0.3))).toBeCloseTo(1, 12);
    const weights = new Float64Array(three.grid.cells).fill(1 / three.grid.cells);
    expect(rise.errorOf(weights) / mean).toBeCloseTo(meanPathError / meanPath, 10);
  });

  it("is the same bits of the same seed, in any order of the shards", () => {
    const again = new Flights(die, contacts);
    const order = Array.from({ length: shardCount }, (_, k) => (7 * k + 3) % shardCount);
    for (const shard of order) {
      again.take(shard, structuredClone(new Flights(die, contacts).flyShard(shard)));
    }
    expect(again.exchange().admittance).toEqual(three.exchange().admittance);
    expect(again.reach).toEqual(three.reach);
    expect(again.source(even).met).toEqual(three.source(even).met);
    const other = new Flights({ ...die, seed: 2 }, contacts);
    expect(other.exchange().admittance).not.toEqual(three.exchange().admittance);
  });

  it("is its statistical error, as other seeds scatter", () => {
    const of = (seed: number) => new Flights({ ...die, rays: 1024, seed }, contacts);
    const several = Array.from({ length: 24 }, (_, seed) => of(seed + 1));
    const spread = (values: readonly number[]) => {
      const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
      return Math.sqrt(
        values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (values.length - 1),
      );
    };
    const rms = (values: readonly number[]) =>
      Math.sqrt(values.reduce((sum, value) => sum + value ** 2, 0) / values.length);
    for (const entry of [1, 2, 5]) {
      const found = spread(several.map((each) => each.exchange().admittance[entry]!));
      const told = rms(several.map((each) => each.exchangeErrors()[entry]!));
      expect(told / found).toBeGreaterThan(0.6);
      expect(told / found).toBeLessThan(1.7);
    }
    const paths = several.map((each) => each.source(even));
    const ratio = rms(paths.map((p) => p.meanPathError)) / spread(paths.map((p) => p.meanPath));
    expect(ratio).toBeGreaterThan(0.6);
    expect(ratio).toBeLessThan(1.7);
  });
});

describe("phonons between two ends", () => {
  const mirrored = { lower: 1, upper: 1, front: 1, back: 1 };

  it("with mirrors beside them follow the radiation law", () => {
    // Every phonon that leaves an end comes to the other: q = σ(T₁⁴ − T₂⁴).
    const ends = [endOf("left"), endOf("right")];
    const box = { width: 3, length: 1, thickness: 1, rays: 256 };
    const flights = new Flights({ ...box, specularity: mirrored }, ends);
    expect(flights.exchange().admittance[1]! * flights.unit).toBeCloseTo(-1, 12);
    // Grey walls: 1/(1/α₁ + 1/α₂ − 1), R. Siegel and J. R. Howell, Thermal Radiation Heat Transfer,
    // two infinite parallel plates.
    const grey = flights.exchange([0.4, 0.7]).admittance[1]! * flights.unit;
    expect(-grey).toBeCloseTo(1 / (1 / 0.4 + 1 / 0.7 - 1), 12);
    // Two of diffuse mismatch of one material halve it: each passes half.
    const halves = flights.exchange([1, 0.5]).admittance[1]! * flights.unit;
    expect(-halves).toBeCloseTo(0.5, 12);
  });
});

describe("sources", () => {
  it("of pixels are sums of rectangles, and a spot starts where it says", () => {
    const over = { left: 0.5, right: 2.5, bottom: 1, top: 2 };
    const pixels: PowerMap = {
      kind: "pixels",
      rows: [
        [1e-9, 0],
        [3e-9, 4e-9],
      ],
      over,
    };
    const body = three.body(law, pixels);
    expect(body.outflow.reduce((sum, each) => sum + each, 0) / 8e-9).toBeCloseTo(1, 13);
    const parts: PowerMap[] = [
      { kind: "rectangle", power: 1e-9, over: { left: 0.5, right: 1.5, bottom: 1, top: 1.5 } },
      { kind: "rectangle", power: 3e-9, over: { left: 0.5, right: 1.5, bottom: 1.5, top: 2 } },
      { kind: "rectangle", power: 4e-9, over: { left: 1.5, right: 2.5, bottom: 1.5, top: 2 } },
    ];
    const sum = three.body(law, parts);
    body.outflow.forEach((each, i) => {
      expect(Math.abs(each / 8e-9 - sum.outflow[i]! / 8e-9)).toBeLessThan(0.05);
    });
    // Most of the heat of a spot above the pad goes into the pad.
    const spot: PowerMap = { kind: "spot", power: 1, x: 3, y: 2, radius: 0.05 };
    expect(three.body(law, spot).outflow[1]).toBeGreaterThan(0.5);
    const { x, y } = three.field(three.body(law, spot), [0.01, 0.01, 0.01]).hottest;
    expect(Math.hypot(x - 3, y - 2)).toBeLessThan(0.5);
  });

  it("need no flights when their power changes", () => {
    const before = three.source(even);
    const more = three.body(law, [{ map: { ...even, power: 1 }, times: 5e-9, field: "load" }]);
    const again = three.body(law, [{ map: { ...even, power: 1 }, times: 6e-9, field: "load" }]);
    expect(more.sources[0]!.flights).toBe(again.sources[0]!.flights);
    expect(three.source(even)).toBe(before);
    expect(again.outflow[0]! / more.outflow[0]!).toBeCloseTo(1.2, 12);
  });

  it("of random contacts and shares leave at temperatures that a network finds by hand", () => {
    // Heat into the body at each contact sums to minus the power, at any temperatures.
    const stream = random(5);
    for (let k = 0; k < 20; k++) {
      const temperatures = [0, 1, 2].map(() => 0.05 + 0.1 * stream.uniform());
      const share = three.exchange([0, 1, 2].map(() => stream.uniform()));
      const heat = three.heat(three.body(law, even, share), temperatures);
      expect(heat[0]! + heat[1]! + heat[2]! + 2e-9).toBeCloseTo(0, 13);
    }
  });
});

describe("contacts that move in a band", () => {
  const size: FlightOptions = { width: 6, length: 5, thickness: 0.4, specularity: 0.7, rays: 8192 };
  const bands = [
    { left: 0.5, right: 5.5, bottom: 0.1, top: 0.4 },
    { left: 0.5, right: 5.5, bottom: 4.6, top: 4.9 },
  ];
  const post: FaceContact = { name: "post", area: square(3, 2.5, 0.4, "back") };
  const row = (count: number): readonly FaceContact[] => [
    ...Array.from({ length: count }, (_, k): FaceContact => {
      const middle = 0.5 + 5 * ((Math.floor(k / 2) + 0.5) / Math.ceil(count / 2));
      const band = bands[k % 2]!;
      return { name: `pad ${k}`, area: { ...band, left: middle - 0.15, right: middle + 0.15 } };
    }),
    post,
  ];
  const paths = pathsOf(size, bands, [post]);
  const moved = (count: number, of = paths) => new Flights(size, row(count), "die", of);

  it("are met as if the phonons had been flown for them alone", () => {
    for (const count of [4, 8, 14]) {
      const alone = new Flights({ ...size, rays: 32768, seed: 3 }, row(count));
      const reused = moved(count);
      const [one, other] = [alone.source(even), reused.source(even)];
      const error = Math.hypot(one.meanPathError, other.meanPathError);
      expect(Math.abs(one.meanPath - other.meanPath)).toBeLessThan(3 * error);
      const [a, b] = [alone.exchange().admittance, reused.exchange().admittance];
      const [da, db] = [alone.exchangeErrors(), reused.exchangeErrors()];
      // Standard errors from 16 shards follow Student's law: of so many entries a few are beyond 3.
      const beyond = a.filter((x, i) => {
        const own = Math.hypot(da[i]!, db[i]!);
        return own > 0 && Math.abs(x - b[i]!) > 3 * own;
      });
      expect(beyond.length / a.length).toBeLessThan(0.03);
      // What a contact exchanges with all others, of all of them together.
      const trace = (y: Float64Array) => {
        let sum = 0;
        for (let i = 0; i <= count; i++) sum += y[i * (count + 2)]!;
        return sum;
      };
      expect(trace(b) / trace(a)).toBeGreaterThan(0.97);
      expect(trace(b) / trace(a)).toBeLessThan(1.03);
      // Shares of the phonons at a place that come from the post, and from all pads of a side.
      const [p, q] = [alone.influences(count), reused.influences(count)];
      const mean = (cells: Float64Array) => cells.reduce((sum, x) => sum + x, 0) / cells.length;
      expect(mean(q) / mean(p)).toBeGreaterThan(0.9);
      expect(mean(q) / mean(p)).toBeLessThan(1.1);
    }
  });

  it("give the same bits whatever was asked before", () => {
    moved(14);
    const later = moved(6);
    const fresh = moved(6, pathsOf(size, bands, [post]));
    moved(4).exchange();
    expect(later.exchange().admittance).toEqual(fresh.exchange().admittance);
    expect(later.source(even).met).toEqual(fresh.source(even).met);
    expect(later.source(even).rise.cells).toEqual(fresh.source(even).rise.cells);
  });

  it("leave those that stay cut as they were, however many tiles they take themselves", () => {
    const thin = { ...size, thickness: 0.05, rays: 4096, specularity: 0.2 };
    const film: FaceContact = { name: "film", area: square(3, 2.5, 3, "back") };
    const others = [film];
    const own = pathsOf(thin, bands, others);
    const contacts = [...row(14).slice(0, -1), film];
    const [reused, alone] = [
      new Flights(thin, contacts, "die", own),
      new Flights({ ...thin, seed: 3 }, contacts),
    ];
    const tiles = reused.tiles.filter(({ contact }) => contact === 14);
    expect(tiles.map(({ area }) => area)).toEqual(own.tiles(others).map(({ area }) => area));
    const between = (of: Flights) => of.exchange().admittance.slice(14 * 15, 14 * 15 + 14);
    const sum = (of: Flights) => between(of).reduce((total, each) => total + each, 0);
    expect(sum(reused) / sum(alone)).toBeGreaterThan(0.9);
    expect(sum(reused) / sum(alone)).toBeLessThan(1.1);
    // Without the place of what stays there is nothing to start from.
    expect(() => new Flights(thin, contacts, "die", paths).exchange()).toThrow("neither in a band");
  });

  it("that do not stand in it have phonons of their own", () => {
    const outside: readonly FaceContact[] = [{ name: "in", area: square(3, 3, 0.3) }, post];
    const paths = pathsOf(size, bands, outside);
    const [one, other] = [new Flights(size, outside, "die", paths), new Flights(size, outside)];
    const error = Math.hypot(one.exchangeErrors()[1]!, other.exchangeErrors()[1]!);
    const [a, b] = [one.exchange().admittance[1]!, other.exchange().admittance[1]!];
    expect(Math.abs(a - b)).toBeLessThan(3.5 * error);
    expect(error).toBeLessThan(0.1 * -a);
  });
});

describe("bad input", () => {
  const make =
    (options: Partial<FlightOptions>, own: readonly FaceContact[] = contacts) =>
    () =>
      new Flights({ ...die, ...options }, own);

  it("is named", () => {
    expect(make({ thickness: 0 })).toThrow("die.thickness: expected a length in metres");
    expect(make({ specularity: 1.2 })).toThrow("die.specularity: expected a share from 0 to 1");
    expect(make({ specularity: { front: -1 } })).toThrow("die.specularity.front: expected a share");
    expect(make({ specularity: { top: 1 } as never })).toThrow("faces out of left, right");
    expect(make({ bulkLength: -1 })).toThrow("die.bulkLength: expected a length");
    expect(make({ rays: 3 })).toThrow("die.rays: expected a whole number from 16");
    expect(make({}, [])).toThrow("contacts: expected at least one contact");
    expect(make({}, [{ name: "a", area: square(0, 0, 1) }])).toThrow(
      "a: expected a place on the front face (4 m by 3 m)",
    );
    expect(make({}, [{ name: "a", area: square(1, 0.2, 1, "left") }])).toThrow("the left face");
    expect(
      make({}, [
        { name: "a", area: square(1, 1, 1) },
        { name: "b", area: square(1.5, 1, 1) },
      ]),
    ).toThrow("b: expected a place apart from a");
    expect(make({}, [{ name: "a", area: [square(1, 1, 1), square(1.5, 1, 1)] }])).toThrow(
      "a: expected pieces apart from each other",
    );
    expect(make({}, [contacts[0]!, contacts[0]!])).toThrow(
      "contacts[1].name: expected a name used once",
    );
    expect(() => three.exchange([0, 1, 1])).toThrow("pad.transmission: expected a share above 0");
    expect(() => three.source({ kind: "uniform", power: -1 })).toThrow("power of at least 0");
  });

  it("of mirrors all around says which share of the phonons they caught", () => {
    const pad = new Flights({ ...die, specularity: 1 }, [contacts[0]!]);
    expect(() => pad.source(even)).toThrow(/die.specularity: .* % of the phonons caught/);
  });
});
