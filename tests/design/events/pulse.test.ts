import { describe, expect, it } from "vitest";
import {
  decayFigure,
  heatPulse,
  hitsFigure,
  hotSpotFigure,
  type Mount,
  simulateHits,
  thermalBudget,
  timeCourse,
  timeFigure,
} from "../../../src/index.js";
import { exampleMount, quickMount } from "../../mount/example.js";

const electronvolt = 1.602176634e-19;
const oneNode: Mount = { ...quickMount(), die: { ...quickMount().die, model: "one node" } };

describe("one hit", () => {
  it("comes back in the die's own time: the fitted decay of a small pulse", () => {
    const pulse = heatPulse(oneNode, { energy: "100 eV", relativeTolerance: 1e-12 });
    const die = pulse.eigenTimes.find(({ places }) => places[0]!.name === "die")!;
    const { times } = pulse.course;
    const rest = pulse.course.before;
    // Least squares of ln(rise) against time, where only that time is left and nothing is lost to rounding.
    const points = [...times.keys()]
      .filter((i) => times[i]! > 0.2 * die.time && times[i]! < 2 * die.time)
      .map((i) => [times[i]!, Math.log(pulse.course.chip[i]! - rest)] as const);
    const mean = (k: 0 | 1) => points.reduce((sum, p) => sum + p[k] / points.length, 0);
    const [t, y] = [mean(0), mean(1)];
    const slope =
      points.reduce((sum, p) => sum + (p[0] - t) * (p[1] - y), 0) /
      points.reduce((sum, p) => sum + (p[0] - t) ** 2, 0);
    expect(points.length).toBeGreaterThan(4);
    expect(-1 / slope / die.time).toBeCloseTo(1, 2);
    expect(pulse.chip.toOneOverE! / die.time).toBeCloseTo(1, 1);
  });

  it("is at once where the heat enters, and later behind the boundary and the coupling", () => {
    const pulse = heatPulse(quickMount(), { energy: "150 keV" });
    expect(pulse.chip.rise).toBe(0);
    expect(pulse.at("pad phonons").rise).toBeGreaterThan(0);
    expect(pulse.at("pad electrons").rise).toBeGreaterThan(pulse.at("pad phonons").rise);
    expect(pulse.at("pad electrons").height).toBeLessThan(pulse.at("pad phonons").height);
    expect(pulse.toText()).toMatch(/150 keV warm the die by/);
    expect(pulse.toMarkdown()).toContain("| pad electrons |");
    expect(() => pulse.at("pad")).toThrow(/one of die centre/);
  });

  it("is hotter where it hits than the die's mean, on a 2-D die", () => {
    const pulse = heatPulse(exampleMount(), {
      energy: "150 keV",
      place: { x: "5 mm", y: "9 mm" },
      cells: 12,
      duration: "300 us",
    });
    expect(pulse.hottest).toBeGreaterThan(3 * pulse.chip.height);
    const spread = pulse.uniformAfter(0.5)!;
    expect(spread).toBeGreaterThan(1e-7);
    expect(spread).toBeLessThan(1e-4);
    const figure = hotSpotFigure(pulse.course, [1e-6, 2e-5]);
    expect(JSON.stringify(figure.layout)).toContain("x (mm)");
    expect(figure.alt).toMatch(/after the hit from/);
    expect(() => hotSpotFigure(pulse.course, [1])).toThrow(/times/);
  });
});

describe("a wrong hit", () => {
  it("is refused by the name of its field", () => {
    const pulse = (energy: never, x: `${number} mm` = "1 mm") =>
      heatPulse(quickMount(), { energy, place: { x, y: "1 mm" } });
    expect(() => pulse("150 mK" as never)).toThrow(/^energy: .*got "150 mK"/);
    expect(() => pulse("-1 keV" as never)).toThrow(/^energy: .*greater than 0/);
    expect(() => pulse("1 keV" as never, "90 mm")).toThrow(/^place\.x: .*on the die/);
  });
});

/** The example with muons and a background of one energy. */
const hitMount: Mount = {
  ...oneNode,
  loads: [
    ...oneNode.loads,
    { kind: "muons", name: "muons" },
    { kind: "background", name: "background", rate: 2, energy: "300 keV" },
  ],
};

describe("a span of time with hits", () => {
  const record = simulateHits(hitMount, { duration: "10 min", seed: 3 });

  it("has as many hits as Poisson's law allows, and their power", () => {
    for (const { name, rate, energy } of record.sources) {
      const own = record.hits.filter(({ source }) => source === name);
      const expected = rate * record.duration;
      expect(Math.abs(own.length - expected)).toBeLessThan(4 * Math.sqrt(expected));
      const mean = own.reduce((sum, hit) => sum + hit.energy, 0) / own.length;
      expect(Math.abs(mean / energy - 1)).toBeLessThan(0.25);
    }
  });

  it("warms the chip on average as the same heat does at rest", () => {
    // Small hits are a linear matter: the mean rise is power times resistance, whatever the pulses.
    const quiet = thermalBudget(oneNode).chip.temperature;
    expect(record.baseline / quiet).toBeCloseTo(1, 10);
    const push = 1e-12;
    const pushed = thermalBudget({
      ...oneNode,
      loads: [...oneNode.loads, { kind: "given", power: push }],
    });
    const resistance = (pushed.chip.temperature - quiet) / push;
    expect(record.meanRise / (record.power * resistance)).toBeCloseTo(1, 1);
  });

  it("repeats itself with the same seed, and does not with another", () => {
    const again = simulateHits(hitMount, { duration: "10 min", seed: 3 });
    expect(again.hits).toEqual(record.hits);
    expect(again.meanRise).toBe(record.meanRise);
    expect(simulateHits(hitMount, { duration: "10 s", seed: 4 }).hits[0]).not.toEqual(
      record.hits[0],
    );
  });

  it("counts the time above a temperature as the distribution does", () => {
    const rise = 1e-4;
    const counted = simulateHits(hitMount, {
      duration: "10 min",
      seed: 3,
      above: record.baseline + rise,
    });
    expect(counted.deadFraction! / record.shareAbove(rise)).toBeCloseTo(1, 1);
    expect(counted.deadFraction).toBeGreaterThan(0);
    expect(counted.excursions).toBeGreaterThan(100);
    expect(counted.excursions).toBeLessThanOrEqual(counted.hits.length);
    expect(counted.summary).toMatch(/% of the time, in \d+ stretches/);
    expect(record.shareAbove(1e-5)).toBeGreaterThan(record.shareAbove(1e-3));
    expect(record.shareAbove(9)).toBe(0);
  });

  it("has heights that solve ∫C dT = E: twice the energy, about twice the height", () => {
    const [muon] = record.hits.filter(({ source }) => source === "muons");
    const gamma = record.hits.find(({ source }) => source === "background")!;
    expect(gamma.energy / (300e3 * electronvolt)).toBeCloseTo(1, 12);
    const linear = muon!.energy / gamma.energy;
    expect(muon!.height / gamma.height / linear).toBeGreaterThan(0.9);
    expect(muon!.height / gamma.height / linear).toBeLessThan(1.1);
  });

  it("refuses a mount without particles, a bad seed and a rise of nothing", () => {
    expect(() => simulateHits(oneNode)).toThrow(/muons or background/);
    expect(() => simulateHits(hitMount, { seed: 1.5 })).toThrow(/seed/);
    expect(() => simulateHits(hitMount, { duration: "1 yr" as never })).toThrow(/duration/);
    expect(() => record.shareAbove(0)).toThrow(/rise/);
  });
});

describe("figures of a mount in time", () => {
  const course = timeCourse(oneNode, { duration: "5 ms", hits: [{ at: "1 ms", energy: "1 MeV" }] });
  const text = (figure: { layout: unknown }) => JSON.stringify(figure.layout);

  it("have axes with units", () => {
    expect(text(timeFigure(course))).toContain("time (ms)");
    expect(text(timeFigure(course))).toContain("above the stage at the start (mK)");
    const decay = decayFigure(course, { after: { time: "1 ms", what: "the hit" }, from: "100 ns" });
    expect(text(decay)).toContain("time after the hit (µs)");
    expect(text(decay)).toContain("rise above the baseline (mK)");
    const record = simulateHits(hitMount, { duration: "1 min" });
    const hits = hitsFigure([{ name: "as drawn", record }]);
    expect(text(hits)).toContain("chip above the baseline (mK)");
    expect(text(hits)).toContain("share of the time above");
  });

  it("refuse what they can't draw", () => {
    expect(() => timeFigure(course, { places: [] })).toThrow(/places/);
    expect(() => decayFigure(course, { after: { time: "9 ms", what: "nothing" } })).toThrow(
      /within the run/,
    );
    expect(() => hotSpotFigure(course, [0])).toThrow(/sheet/);
    expect(() => hitsFigure([])).toThrow(/records/);
  });
});

describe("a chip that is above its limit without the hit", () => {
  const warm: Mount = { ...oneNode, limit: { rise: "1 mK" } };
  it("is said to be so, with no time that the run has only by its length", () => {
    const pulse = heatPulse(warm, { energy: "1 keV" });
    expect(pulse.course.before).toBeGreaterThan(pulse.course.limit!);
    expect(pulse.toText()).toMatch(
      /It is above its limit of .* from the start to the end of the run\./,
    );
    const course = timeCourse(warm, { duration: "3 s" });
    expect(course.toText()).toMatch(
      /It is above its limit of .* from the start to the end of the run\./,
    );
    const off = timeCourse(warm, {
      duration: "3 s",
      changes: warm.loads.map(({ name, kind }) => ({ load: name ?? kind, at: "1 s", to: 0 })),
    });
    expect(off.toText()).toMatch(/from the start, and for 1\.\d* s of the run\./);
  });

  it("is above it to the end of the run where it has not come back", () => {
    const cool: Mount = { ...oneNode, limit: { rise: "12 mK" } };
    const course = timeCourse(cool, {
      duration: "10 us",
      hits: [{ at: "5 us", energy: "10 GeV" }],
    });
    expect(course.before).toBeLessThan(course.limit!);
    expect(course.toText()).toMatch(/for 5\.00 µs, to the end of the run\./);
  });
});
