import { describe, expect, it } from "vitest";
import { type Screws, screwForce } from "../../src/joints/screws.js";
import { readCatalogue } from "../../src/materials/catalogue.js";
import { readDataFolder } from "../../src/materials/files.js";

const catalogue = readCatalogue(readDataFolder());
const force = (screws: Screws) => screwForce(screws, catalogue);
const m3: Screws = { size: "M3", torque: "0.9 N m", nutFactor: 0.2 };
const under = (...clamped: NonNullable<Screws["clamped"]>) => clamped;
const plate = (material: string, thickness = 5e-3) => ({ material, thickness });

describe("the preload of a screw", () => {
  // A worked example of aionlinecalculator.com/bolt-torque-calculator.html: M12, property class 8.8, 70 % of a
  // proof stress of 580 MPa on 84.3 mm², K = 0.2: 34 kN by 82 N m; at K = 0.15 about 45 kN, at 0.3 about 23 kN.
  it.each([
    [0.2, 34e3],
    [0.15, 45e3],
    [0.3, 23e3],
  ])("of an M12 at 82 N m is that of a worked example, nut factor %d", (nutFactor, newtons) => {
    const { warm } = force({ size: "M12", torque: "82 N m", nutFactor, material: "titanium" });
    expect(warm / newtons).toBeCloseTo(1, 1);
  });

  // Preload and torque of stainless screws of class 70 at a total friction of 0.1, from a dealer's table
  // (mastik.pt, page 686), and the nut factors that follow from them.
  it.each([
    ["M2", 0.23, 740, 0.155],
    ["M2.5", 0.46, 1230, 0.15],
    ["M3", 0.8, 1840, 0.145],
    ["M4", 1.85, 3200, 0.145],
    ["M5", 3.6, 5200, 0.138],
  ])("of an %s at %d N m is %d N, by a dealer's table", (size, torque, newtons, nutFactor) => {
    expect(force({ size, torque, nutFactor }).warm / newtons).toBeCloseTo(1, 2);
  });

  // ISO 898-1: A = π/4 (d − 0.9382 p)²; ASME B1.1: A = π/4 (d − 0.9743/n)².
  it.each([
    ["M1.6", 1.6, 0.35 * 0.9382],
    ["M2", 2, 0.4 * 0.9382],
    ["M2.5", 2.5, 0.45 * 0.9382],
    ["M3", 3, 0.5 * 0.9382],
    ["M4", 4, 0.7 * 0.9382],
    ["M5", 5, 0.8 * 0.9382],
    ["M6", 6, 1 * 0.9382],
    ["M8", 8, 1.25 * 0.9382],
    ["M12", 12, 1.75 * 0.9382],
    ["0-80", 1.524, (25.4 / 80) * 0.9743],
    ["2-56", 2.1844, (25.4 / 56) * 0.9743],
    ["4-40", 2.8448, (25.4 / 40) * 0.9743],
    ["6-32", 3.5052, (25.4 / 32) * 0.9743],
    ["8-32", 4.1656, (25.4 / 32) * 0.9743],
    ["10-32", 4.826, (25.4 / 32) * 0.9743],
    ["1/4-20", 6.35, (25.4 / 20) * 0.9743],
  ])("has the stress area of the standards' formula: %s", (size, d, less) => {
    const law = catalogue.laws("joints", "screws").find(({ property }) => property === size)!;
    const area = (Math.PI / 4) * (d - less) ** 2 * 1e-6;
    expect(law.parameters.get("stress_area")!.value / area).toBeCloseTo(1, 1.7);
    expect(law.parameters.get("nominal_diameter")!.value).toBeCloseTo(1e-3 * d, 8);
  });

  it("takes the catalogue's nut factor when none is given, and its uncertainty with it", () => {
    const { warm, provenance } = force({ size: "M3", torque: 0.6 });
    expect(warm).toBeCloseTo(1000, 9);
    expect(
      provenance.some(
        ({ quantity, uncertainty }) => /nut factor/.test(quantity) && uncertainty === "x1.35",
      ),
    ).toBe(true);
    expect(force({ ...m3, torque: "600 mN m" }).warm).toBeCloseTo(1000, 9);
    // 1 lbf in = 0.112985 N m.
    expect(force({ ...m3, torque: "1 lbf in" }).warm).toBeCloseTo(0.112985 / 6e-4, 2);
  });
});

describe("what cooling leaves of it", () => {
  // Computed outside of this code from the same handbook values (E 193, 117 and 69 GPa, a cone of 30° from a head
  // of 5.5 mm): stiffness of an M3 of stainless steel through copper.
  it.each([
    [3e-3, 1.57e8],
    [5e-3, 1.15e8],
    [10e-3, 7.1e7],
  ])("goes by the stiffness through %d m of copper", (thickness, newtonsPerMetre) => {
    const { stiffness } = force({ ...m3, clamped: under(plate("copper", thickness)) });
    expect(stiffness! / newtonsPerMetre).toBeCloseTo(1, 2);
  });

  // Likewise: change of force of an M3 through 5 mm, by contractions of NBS Monograph 29.
  it.each([
    ["copper", "stainless-steel", -161],
    ["copper", "brass", 199],
    ["copper", "becu", -31],
    ["al-6061", "stainless-steel", -631],
    ["al-6061", "brass", -98],
    ["brass", "stainless-steel", -500],
    ["molybdenum", "stainless-steel", 1256],
  ])("%s under a screw of %s changes it by %d N", (body, material, change) => {
    const { warm, cold } = force({ ...m3, material, clamped: under(plate(body)) });
    expect(Math.abs(cold - warm - change)).toBeLessThan(0.06 * Math.abs(change) + 3);
  });

  it.each([
    ["molybdenum", 0.7e-3],
    ["invar", 0.56e-3],
  ])("a washer of %s of the right thickness keeps all of it on copper", (washer, thickness) => {
    const { warm, cold } = force({
      ...m3,
      clamped: under(plate(washer, thickness), plate("copper")),
    });
    expect(Math.abs(cold / warm - 1)).toBeLessThan(0.01);
  });

  it("a spring washer gives way, so that 1.4 N are lost in place of 161 N", () => {
    const { warm, cold } = force({
      ...m3,
      clamped: under({ stiffness: "1 kN/mm" }, plate("copper")),
    });
    expect(warm - cold).toBeCloseTo(1.4, 1);
  });

  it("settling takes the stiffness times its length: all of 833 N by 7.2 µm", () => {
    const half: Screws = { ...m3, torque: 0.5, clamped: under(plate("copper")) };
    const whole = force(half);
    const settled = force({ ...half, settling: "5 um" });
    expect(whole.cold - settled.cold).toBeCloseTo(whole.stiffness! * 5e-6, 6);
    expect(whole.warm / whole.stiffness!).toBeCloseTo(7.2e-6, 7);
  });

  it("is refused where nothing is left, saying what to do", () => {
    const loose: Screws = {
      size: "M3",
      torque: 0.3,
      nutFactor: 0.2,
      clamped: under(plate("al-6061")),
    };
    expect(() => screwForce(loose, catalogue, "joint.screws")).toThrow(
      /^joint\.screws: expected screws that hold when cold \(more torque, a longer screw/,
    );
    expect(() => screwForce(loose, catalogue)).toThrow(/of the preload of 500 N, 6\d\d N go/);
  });

  it("is told in words where little is left, where a screw yields, and where nothing is known", () => {
    expect(force({ ...m3, torque: 0.5, clamped: under(plate("al-6061")) }).warnings.join()).toMatch(
      /only 2\d % of the force is left when cold; of the preload of 833 N/,
    );
    expect(force({ ...m3, torque: 2, clamped: under(plate("copper")) }).warnings.join()).toContain(
      "the preload of 3.33 kN is more than a screw of stainless-steel bears, 2.26 kN: it yields",
    );
    expect(force(m3).warnings.join()).toContain("what the screws clamp is not given (clamped)");
    expect(force({ ...m3, clamped: under(plate("copper")) }).warnings).toEqual([]);
  });
});

it("bad input is refused by its field", () => {
  const at = (more: object) => () =>
    screwForce({ ...m3, ...more } as Screws, catalogue, "joint.screws");
  expect(at({ size: "M7" })).toThrow('joint.screws.size: size of screw "M7" is not known');
  expect(at({ torque: "0.6 N" })).toThrow(
    'joint.screws.torque: expected a torque such as "0.6 N m"',
  );
  expect(at({ nutFactor: 2 })).toThrow(
    "joint.screws.nutFactor: expected a nut factor greater than 0, at most 1",
  );
  expect(at({ clamped: [plate("cooper")] })).toThrow(
    'joint.screws.clamped[0].material: material "cooper"',
  );
  expect(at({ clamped: [plate("kevlar")] })).toThrow(
    "joint.screws.clamped[0].material: expected a material whose Young's modulus is on file",
  );
  expect(at({ clamped: [] })).toThrow("joint.screws.clamped: expected a list of one layer or more");
});
