import { describe, expect, it } from "vitest";
import { type Mount, readMount, thermalBudget } from "../../../src/index.js";
import { contactGroups } from "../../../src/mount/assemble.js";
import { MountModel } from "../../../src/mount/model.js";
import type { Bumps, BumpsBetween, DieJoint } from "../../../src/mount/things/die-joints.js";
import { flipChip } from "../flip-chip.js";
import { catalogue } from "./smallest.js";

const indium = {
  material: "indium",
  residualResistivityRatio: 100,
  diameter: "60 um",
  height: "10 um",
} as const;
const withBumps = (bumps: Partial<Bumps> | object, more: Partial<BumpsBetween> = {}): Mount => ({
  ...flipChip,
  between: [{ name: "bumps", from: "die", to: "carrier", bumps: bumps as Bumps, ...more }],
});
const joined = (joint: object): Mount => ({
  ...flipChip,
  between: [{ name: "it", from: "die", to: "carrier", ...joint } as DieJoint],
});
const conductor = (mount: Mount, name: string) => {
  const model = new MountModel(readMount(mount), catalogue);
  const path = model.structure.paths.find((each) => each.name === name)!;
  return { law: model.numbers.conductor(path), count: model.numbers.count(path) };
};

describe("bumps between two dies", () => {
  const T = 0.1;
  /** π²k⁴/(120ħ³) Σ c⁻², E. T. Swartz and R. O. Pohl, Rev. Mod. Phys. 61, 605 (1989). */
  const radiation = (longitudinal: number, transverse: number) =>
    ((Math.PI ** 2 * 1.380649e-23 ** 4) / (120 * 1.054571817e-34 ** 3)) *
    (longitudinal ** -2 + 2 * transverse ** -2);
  // Speeds of sound of silicon and indium: table II there (from memory).
  const [Si, In] = [radiation(8970, 5330), radiation(2700, 1190)];
  const face = (Si * In) / (Si + In);
  const area = (Math.PI * 60e-6 ** 2) / 4;

  it("superconducting, carry phonons alone: two mismatched faces and the metal's lattice", () => {
    const { law, count } = conductor(
      withBumps({ ...indium, meanFreePath: "10 um", count: 16 }),
      "bumps",
    );
    expect(count).toBe(16);
    // κ = ⅓ C v Λ with C by Debye's law, θ = 111 K (H. R. O'Neal and N. E. Phillips, Phys. Rev. 137, A748
    // (1965)), 15.7 cm³/mol, and v the mean speed of phonons of heat.
    const c = ((12 * Math.PI ** 4) / 5) * 8.314463 * (T / 111) ** 3 * (7310 / 0.114818);
    const v = (2700 ** -2 + 2 * 1190 ** -2) / (2700 ** -3 + 2 * 1190 ** -3);
    const lattice = (c * v * 10e-6) / 3 / 10e-6;
    const expected = area / (2 / (4 * face * T ** 3) + 1 / lattice);
    // The catalogue counts what electrons of its rows add to this; the faces are 99 % of it.
    expect(Math.abs(law.conductance(T) / expected - 1)).toBeLessThan(0.015);
  });

  it("conduct no better normal than their faces let them, and far worse below T_c in the metal", () => {
    const given = { resistance: 1e-12 } as const;
    const ideal = { ...indium, boundary: given, meanFreePath: "10 um", count: 1 };
    const electrons = conductor(withBumps({ ...ideal, state: "normal" }), "bumps").law.conductance(
      T,
    );
    const phonons = conductor(withBumps(ideal), "bumps").law.conductance(T);
    // Law of Wiedemann and Franz, ρ₀ = 8.0 µΩ cm at 273 K over the ratio, as in its own test.
    expect(electrons / phonons).toBeGreaterThan(100);
  });

  it("resist less than a measured flip chip, by a factor that bad faces explain", () => {
    // Resistance times area 7.7 to 15.4 K⁴ µm²/nW T⁻³ of indium between silicon: row flipchip2023 of
    // data/joints/glue.csv, read in the publication's abstract.
    const perArea = (mount: Mount) => conductor(mount, "bumps").law.conductance(T) / area / T ** 3;
    const measured = perArea(withBumps({ measured: "indium bumps", diameter: "60 um", count: 16 }));
    expect(measured).toBeGreaterThan(1e3 / 15.4);
    expect(measured).toBeLessThan(1e3 / 7.7);
    const ideal = perArea(withBumps({ ...indium, count: 16 }));
    expect(ideal / measured).toBeGreaterThan(1);
    expect(ideal / measured).toBeLessThan(8);
  });

  it("stand in rows over the shared face, in both dies at the same places", () => {
    const mount = withBumps({ ...indium, pitch: "2 mm" });
    const groups = contactGroups(readMount(mount)).filter(({ name }) => name === "bumps");
    expect(groups.map(({ die, contacts }) => [die, contacts.length])).toEqual([
      [undefined, 16],
      ["carrier", 16],
    ]);
    const [upper, lower] = groups.map(({ contacts }) => contacts.flatMap(({ area: each }) => each));
    const side = (60e-6 * Math.sqrt(Math.PI)) / 2;
    upper!.forEach((spot, k) => {
      // The chip of 8 mm lies in the middle of a carrier of 14 mm.
      expect(lower![k]!.left - spot.left).toBeCloseTo(3e-3, 12);
      expect(lower![k]!.top - spot.top).toBeCloseTo(3e-3, 12);
      expect(spot.right - spot.left).toBeCloseTo(side, 12);
    });
    expect(upper![0]!.left + side / 2).toBeCloseTo(1e-3, 12);
    expect(upper![15]!.right - side / 2).toBeCloseTo(7e-3, 12);
  });

  it("by the thousand are taken with their neighbours, and conduct the same", () => {
    const dense = withBumps({ ...indium, diameter: "30 um", pitch: "200 um" });
    const [group] = contactGroups(readMount(dense)).filter(({ name }) => name === "bumps");
    expect(group!.contacts.length).toBeLessThanOrEqual(144);
    const { count } = conductor(dense, "bumps");
    expect(count).toBe(40 ** 2);
    expect(group!.contacts.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 12);
    const budget = thermalBudget(dense);
    const bumps = budget.elements.find(({ name }) => name === "bumps")!;
    expect(bumps.power).toBeCloseTo(1e-9, 15);
  });

  it("may lie at places, counted from the lower left corner of the upper die", () => {
    const places = [
      { x: "1 mm", y: "1 mm" },
      { x: "7 mm", y: "7 mm" },
    ];
    const [upper, lower] = contactGroups(readMount(withBumps({ ...indium, places }))).filter(
      ({ name }) => name === "bumps",
    );
    const middle = (group: typeof upper) => {
      const [first] = [group!.contacts[0]!.area].flat() as { left: number; right: number }[];
      return (first!.left + first!.right) / 2;
    };
    expect(middle(upper)).toBeCloseTo(1e-3, 12);
    expect(middle(lower)).toBeCloseTo(4e-3, 12);
  });
});

describe("glue and joints between two dies", () => {
  it("cover the shared face where no area is given", () => {
    const glue = { glue: "fast epoxy" } as const;
    const whole = conductor(joined({ glue }), "it");
    const given = conductor(joined({ glue: { ...glue, area: "64 mm^2" } }), "it");
    expect(whole.law.conductance(0.1)).toBeCloseTo(given.law.conductance(0.1), 12);
    const spots = conductor(joined({ glue: { ...glue, area: "1 mm^2", count: 4 } }), "it");
    expect(spots.count).toBe(4);
    expect((4 * spots.law.conductance(0.1)) / whole.law.conductance(0.1)).toBeCloseTo(4 / 64, 9);
  });

  it("may be a layer of a material with its faces, or pressed faces", () => {
    const layer = {
      material: "indium",
      residualResistivityRatio: 100,
      thickness: "20 um",
      boundary: "diffuse mismatch",
    };
    expect(thermalBudget(joined({ glue: layer })).chip.rise).toBeGreaterThan(0);
    const pressed = { faces: "sapphire on silicon", force: "3 N", count: 3 } as const;
    expect(conductor(joined({ joint: pressed }), "it").count).toBe(3);
  });
});

describe("bad input about several dies", () => {
  const at = (x: string, y: string) => ({
    ...indium,
    places: [
      { x: "4 mm", y: "4 mm" },
      { x, y },
    ],
  });
  const carrier = flipChip.dies!.carrier!;
  const cases: readonly (readonly [string, Mount, string])[] = [
    [
      "bumps outside the smaller die",
      withBumps(at("8.01 mm", "1 mm")),
      'between[0].bumps.places[1]: expected a bump on both dies, got "one over the edge of die, at x 7.98',
    ],
    [
      "bumps that overlap",
      withBumps(at("4.02 mm", "4 mm")),
      'between[0].bumps.places[1]: expected a bump apart from between[0].bumps.places[0], got "an overlap at',
    ],
    [
      "more bumps than fit on the shared face",
      withBumps({ ...indium, pitch: "2 mm", count: 17 }),
      "between[0].bumps.count: expected at most 16, which is what fits on the shared face at the pitch, got 17",
    ],
    [
      "a pitch below the diameter",
      withBumps({ ...indium, pitch: "50 um" }),
      'between[0].bumps.pitch: expected at least the diameter, 60 µm, got "50 um"',
    ],
    [
      "a pitch at which there would be millions of bumps",
      withBumps({ ...indium, diameter: "1 um", pitch: "1 um" }),
      'between[0].bumps.pitch: expected a pitch at which at most 100000 bumps fit, got "1 um"',
    ],
    [
      "a die that there is not",
      withBumps({ ...indium, count: 4 }, { to: "carier" }),
      'between[0].to: die "carier" is not known, did you mean "carrier"? Known: die, carrier',
    ],
    [
      "a die on itself",
      withBumps({ ...indium, count: 4 }, { to: "die" }),
      'between[0].to: expected another die, got "die"',
    ],
    [
      "two dies without a path",
      {
        ...flipChip,
        between: undefined as never,
        dies: { carrier: { ...carrier, offset: { x: "20 mm", y: 0 } } },
      },
      "die: expected bonds, groups of bonds, clamps, glue, a pressed back or a pressed or glued patch for the heat, or something between it and a die that has them",
    ],
    [
      "two dies that nothing holds",
      { ...flipChip, dies: { carrier: { die: carrier.die } } },
      "die: expected bonds",
    ],
    [
      "dies in one place",
      { ...flipChip, between: undefined as never, glue: { glue: "fast epoxy", area: "1 mm^2" } },
      "dies.carrier.offset: expected a place beside the mount's own die, or bumps, glue or a joint between them",
    ],
    [
      "dies that lie apart",
      { ...flipChip, dies: { carrier: { ...carrier, offset: { x: "20 mm", y: 0 } } } },
      'between[0]: expected dies that lie over each other, got "die and carrier, apart"',
    ],
    [
      "bumps on a pad of the carrier",
      {
        ...flipChip,
        dies: {
          carrier: {
            ...carrier,
            patches: [
              {
                name: "plane",
                face: "front",
                material: "gold",
                thickness: "200 nm",
                residualResistivityRatio: 5,
                left: "3 mm",
                right: "6 mm",
                bottom: "3 mm",
                top: "6 mm",
              },
            ],
          },
        },
      },
      'between[0]: expected a place apart from dies.carrier.patches[0], on carrier, got "an overlap at',
    ],
    [
      "a name that is a place",
      { ...withBumps({ ...indium, count: 4 }, { to: "stage" }), dies: { stage: carrier } },
      'dies: expected names of dies that no other place has, got "stage"',
    ],
    [
      "a name with a dot",
      { ...flipChip, dies: { "car.rier": carrier } },
      'dies: expected a name of letters, digits, spaces and hyphens that begins with a letter, got "car.rier"',
    ],
    [
      "a field of a further die, as it was written",
      {
        ...flipChip,
        dies: { carrier: { ...carrier, bonds: { ...carrier.bonds!, diameter: "25 mK" as never } } },
      },
      'dies.carrier.bonds.diameter: expected a length such as "25 um" or a number in metres, got "25 mK"',
    ],
    [
      "a rule that a further die breaks",
      {
        ...flipChip,
        dies: { carrier: { ...carrier, bonds: { ...carrier.bonds!, diameter: "200 um" } } },
      },
      "dies.carrier.bonds.diameter: expected a foot that fits on its pad",
    ],
    [
      "a model of its own",
      {
        ...flipChip,
        dies: { carrier: { ...carrier, die: { ...carrier.die, model: "one node" } as never } },
      },
      'dies.carrier.die.model: field "model" is not known',
    ],
    [
      "three dies of which each lies on the next",
      {
        ...flipChip,
        dies: { carrier, third: { die: carrier.die } },
        between: [
          ...flipChip.between!,
          { from: "carrier", to: "third", glue: { glue: "fast epoxy" } },
          {
            from: "third",
            to: "die",
            fromFace: "front",
            toFace: "back",
            glue: { glue: "fast epoxy" },
          },
        ],
      },
      'between[2]: expected dies of which the first lies on the second, got "third and die, by what else joins them"',
    ],
  ];
  it.each(cases)("%s", (_, mount, message) => {
    expect(() => readMount(mount)).toThrow(message);
  });
});
