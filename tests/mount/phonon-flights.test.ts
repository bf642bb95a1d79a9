/** A die of flights by itself, against what is known of the whole. */
import { describe, expect, it } from "vitest";
import { type PhononFlightsOptions, phononFlights } from "../../src/mount/phonon-flights.js";

const die: PhononFlightsOptions = {
  material: "silicon",
  width: "5 mm",
  length: "4 mm",
  thickness: "0.4 mm",
  specularity: { front: 0.9, back: 0.5 },
  rays: 4096,
  contacts: [
    { name: "one", left: 0, right: "1 mm", bottom: 0, top: "1 mm", metal: "gold" },
    { name: "two", left: "3 mm", right: "4.5 mm", bottom: "2 mm", top: "4 mm", face: "back" },
  ],
};

describe("phononFlights(options)", () => {
  const found = phononFlights(die);

  it("gives the exchange, the shares, the field and their errors", () => {
    const [[a, b], [c, d]] = found.exchange as [[number, number], [number, number]];
    expect(b).toBe(c);
    expect(a).toBe(-b);
    expect(d).toBe(-c);
    // No more goes from one to the other than meets the smaller: α σ A, σ = 211 W/(m² K⁴).
    expect(-b).toBeLessThan(211 * 1e-6);
    expect(-b).toBeGreaterThan(0.2 * 211 * 1e-6);
    expect(found.exchangeErrors[0]![1]! / -b).toBeLessThan(0.1);
    expect(found.contacts.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 12);
    // Gold on silicon by diffuse mismatch, from their speeds of sound: S_gold/(S_gold + S_silicon).
    const slowness = (l: number, t: number) => l ** -2 + 2 * t ** -2;
    const [gold, silicon] = [slowness(3390, 1290), slowness(8970, 5330)];
    expect(found.contacts[0]!.transmission).toBeCloseTo(gold / (gold + silicon), 12);
    expect(found.contacts[1]!.transmission).toBe(1);
    expect(found.meanTime).toBeCloseTo(found.meanPath / 5830, -6);
    expect(found.field.hottest.temperature).toBeGreaterThan(0.1);
    expect(found.temperatureError).toBeLessThan(0.1 * (found.field.mean - 0.1));
  });

  it("prints, and needs no flights of its own to be printed again", () => {
    expect(found.toText()).toMatch(/The die reaches 1\d\d\.\d mK ± .* until a contact was met\./);
    expect(found.toText()).toContain("share of the heat");
    expect(found.toCsv()).toContain("sound speed");
  });

  it("warns above 3 K, where phonons scatter by their frequency, and of thin dies", () => {
    expect(found.warnings).toEqual([]);
    expect(phononFlights({ ...die, temperature: "4 K" }).warnings.join()).toMatch(
      /4.00 K .* 3.00 K/,
    );
    const thin = { ...die, thickness: "50 um", temperature: "1 mK", specularity: 0.9 } as const;
    expect(phononFlights(thin).warnings.join()).toMatch(/shorter than the die is thick/);
  });

  it("names what is wrong", () => {
    const { contacts } = die;
    const [one, two] = contacts;
    expect(() => phononFlights({ ...die, contacts: [] })).toThrow(
      "contacts: expected at least one",
    );
    expect(() => phononFlights({ ...die, thickness: "1 mK" as never })).toThrow(
      "thickness: expected",
    );
    expect(() => phononFlights({ ...die, contacts: [{ ...one!, right: "9 mm" }] })).toThrow(
      "one: expected a place on the front face (5 mm by 4 mm)",
    );
    expect(() => phononFlights({ ...die, contacts: [{ ...one!, top: 0 }] })).toThrow(
      "contacts[0]: expected a rectangle",
    );
    expect(() => phononFlights({ ...die, contacts: [two!, { ...two!, name: "b" }] })).toThrow(
      "b: expected a place apart from two",
    );
    expect(() => phononFlights({ ...die, contacts: [{ ...one!, transmission: 2 }] })).toThrow(
      "one.transmission: expected a share above 0",
    );
    expect(() => phononFlights({ ...die, contacts: [{ ...one!, metal: "golb" }] })).toThrow(
      'contacts[0].metal: material "golb" is not known',
    );
    expect(() => phononFlights({ ...die, contacts: [{ ...one!, face: "top" as never }] })).toThrow(
      "contacts[0].face: expected one of left",
    );
  });
});
