import { describe, expect, test } from "vitest";
import { coax } from "../../src/loads/coax.js";
import { loadText } from "../../src/loads/heat-load.js";
import { conduction, type Wiring, wiring } from "../../src/loads/wiring.js";
import { readCatalogue } from "../../src/materials/catalogue.js";
import { readDataFolder } from "../../src/materials/files.js";

const catalogue = readCatalogue(readDataFolder());
const line = coax(
  {
    size: "0.085 in",
    conductor: { material: "stainless-steel" },
    dielectric: { material: "ptfe" },
  },
  catalogue,
);
const bundle: Wiring = {
  members: line,
  count: 10,
  stages: [
    { name: "room", temperature: "300 K" },
    { name: "50 K", temperature: "50 K", length: "200 mm" },
    { name: "4 K", temperature: "4 K", length: "290 mm" },
    { name: "still", temperature: "1 K", length: "250 mm" },
  ],
};

describe("a bundle sunk on its way", () => {
  const load = wiring(bundle, catalogue);

  test("leaves at each stage what arrives less what goes on, and all of it at the last", () => {
    const [room, fifty, four, still] = load.stages as [
      (typeof load.stages)[0],
      ...typeof load.stages,
    ];
    expect(room.arrives).toBe(0);
    expect(fifty!.stays).toBeCloseTo(fifty!.arrives - four!.arrives, 12);
    expect(still!.stays).toBe(still!.arrives);
    expect(load.power).toBe(still!.arrives);
    const kept = load.stages.slice(1).reduce((sum, { stays }) => sum + stays, 0);
    expect(kept / -room.stays).toBeCloseTo(1, 12);
  });

  test("brings between two stages what its members conduct one by one", () => {
    const ends = { length: "290 mm", warm: "50 K", cold: "4 K", count: 10 } as const;
    const areas = [0.511 ** 2, 1.676 ** 2 - 0.511 ** 2, 2.197 ** 2 - 1.676 ** 2].map(
      (square) => (Math.PI * square * 1e-6) / 4,
    );
    const materials = ["stainless-steel", "ptfe", "stainless-steel"];
    const sum = areas.reduce(
      (total, area, i) =>
        total + conduction({ ...ends, area, material: materials[i]! }, catalogue).power,
      0,
    );
    expect(load.stages[2]!.arrives / sum).toBeCloseTo(1, 9);
  });

  test("brings less to the coldest stage than one that is sunk nowhere between", () => {
    const direct = wiring(
      {
        ...bundle,
        stages: [bundle.stages[0]!, { ...bundle.stages[3]!, length: "740 mm" }],
      },
      catalogue,
    );
    expect(load.power).toBeLessThan(direct.power / 10);
  });

  test("prints what stays where", () => {
    expect(loadText(load)).toMatch(/stays at 50 K +2\d\d mW/);
    expect(load.provenance.some(({ quantity }) => quantity.includes("ptfe"))).toBe(true);
  });
});

describe("members", () => {
  const between = (members: Wiring["members"]) =>
    wiring(
      {
        members,
        stages: [
          { name: "warm", temperature: "4 K" },
          { name: "cold", temperature: "1 K", length: "0.1 m" },
        ],
      },
      catalogue,
    ).power;

  test("may be many alike: a loom", () => {
    const wire = { material: "manganin", diameter: "0.1 mm" } as const;
    expect(between([{ ...wire, count: 24 }]) / between([wire])).toBeCloseTo(24, 9);
  });

  test("may be tubes, which hold less by what is not in them", () => {
    const post = { material: "g10", sample: "normal", diameter: "10 mm" } as const;
    expect(between([{ ...post, innerDiameter: "8 mm" }]) / between([post])).toBeCloseTo(0.36, 9);
    const area = { material: "g10", sample: "normal", area: "78.539816 mm^2" } as const;
    expect(between([area]) / between([post])).toBeCloseTo(1, 7);
  });

  test("of a line by its diameters are those of the size on hand", () => {
    const own = coax(
      {
        conductor: { material: "stainless-steel" },
        dielectric: { material: "ptfe" },
        centreDiameter: "0.511 mm",
        dielectricDiameter: "1.676 mm",
        outerDiameter: "2.197 mm",
      },
      catalogue,
    );
    expect(between(own) / between(line)).toBeCloseTo(1, 9);
    const mixed = coax(
      {
        size: "0.047 in",
        conductor: { material: "copper", residualResistivityRatio: 50 },
        outer: { material: "stainless-steel" },
        dielectric: { material: "ptfe" },
      },
      catalogue,
    );
    expect(mixed.map(({ material }) => material)).toEqual(["copper", "ptfe", "stainless-steel"]);
  });
});

describe("what wiring refuses", () => {
  const [room, fifty] = bundle.stages as [Wiring["stages"][0], Wiring["stages"][0]];
  test.each([
    [{ members: [] }, "lines.members: expected a list of what a line is made of, got []"],
    [{ stages: [room] }, "lines.stages: expected two stages or more, from warm to cold"],
    [
      { stages: [fifty, { ...room, length: 1 }] },
      'lines.stages[1].temperature: expected a temperature up to that of 50 K (50.0 K), got "300 K"',
    ],
    [
      { stages: [room, { ...fifty, temperature: "-50 K" }] },
      'lines.stages[1].temperature: expected a temperature such as "100 mK" or a number in kelvin, greater than 0, got "-50 K"',
    ],
    [
      { stages: [room, { ...fifty, length: undefined }] },
      "lines.stages[1].length: expected a length",
    ],
    [{ stages: [room, { ...fifty, name: "" }] }, 'lines.stages[1].name: expected a name, got ""'],
    [{ count: 0 }, "lines.count: expected a whole number of at least 1, got 0"],
    [
      { members: [{ material: "ptfe" }] },
      'lines.members[0]: expected either a diameter or an area, got "neither"',
    ],
    [
      { members: [{ material: "ptfe", area: 1, innerDiameter: 1 }] },
      'lines.members[0].innerDiameter: expected none beside an area, got "1 m"',
    ],
    [
      { members: [{ material: "ptfe", diameter: "1 mm", innerDiameter: "2 mm" }] },
      "lines.members[0].innerDiameter: expected a length below the outer diameter (1.00 mm)",
    ],
    [
      { members: [{ material: "teflon", diameter: 1 }] },
      'lines.members[0].material: material "teflon" is not known',
    ],
  ])("%j", (change, message) => {
    expect(() => wiring({ ...bundle, ...change } as never, catalogue, "lines")).toThrow(message);
  });

  test("a line of unknown size, or whose layers do not nest", () => {
    const materials = { conductor: { material: "copper" }, dielectric: { material: "ptfe" } };
    expect(() => coax({ ...materials, size: "0.085" }, catalogue)).toThrow(
      'coax.size: size of line "0.085" is not known',
    );
    const upsideDown = { centreDiameter: 2, dielectricDiameter: 1, outerDiameter: 3 };
    expect(() => coax({ ...materials, ...upsideDown }, catalogue)).toThrow(
      "coax: expected diameters that rise from the centre to the dielectric to the outer conductor",
    );
  });
});
