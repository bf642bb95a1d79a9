/**
 * Flights against what was measured of polished silicon and of beams. No curve of these papers was read,
 * their abstracts were: what is held are the senses they report.
 */
import { describe, expect, it } from "vitest";
import type { FlightOptions } from "../../../src/chip/flights/box.js";
import type { FaceContact } from "../../../src/chip/flights/face-contacts.js";
import { Flights } from "../../../src/chip/flights/flights.js";
import { phononRadiation } from "../../../src/joints/boundary.js";
import { rodMeanFreePath } from "../../../src/materials/phonons.js";
import { standardCatalogue } from "../../../src/materials/standard.js";
import { integrate } from "../../../src/numerics/quadrature.js";

const ends = ({ length, thickness }: FlightOptions): FaceContact[] =>
  (["left", "right"] as const).map((name) => ({
    name,
    area: { face: name, left: 0, right: length, bottom: 0, top: thickness },
  }));

/** Share of the phonons from one end that come to the other; a floating contact sends back what it gets. */
function through(options: FlightOptions, floating?: FaceContact): number {
  const contacts = floating ? [...ends(options), floating] : ends(options);
  const flights = new Flights(options, contacts);
  const Y = flights.exchange().admittance;
  const direct = -Y[1]!;
  const by = floating ? (Y[2]! * Y[5]!) / -(Y[2]! + Y[5]!) : 0;
  return ((direct + by) * flights.unit) / (options.length * options.thickness);
}

/** Mirror share by roughness over wavelength, of phonons straight at the face (Ziman). */
const mirrorShare = (roughness: number, wavelength: number) =>
  Math.exp(-16 * (Math.PI * (roughness / wavelength)) ** 2);

describe("a bar of which the faces are mirrors to 99 %", () => {
  // T. Klitsner, J. E. VanCleve, H. E. Fischer and R. O. Pohl, Phys. Rev. B 38, 7576 (1988), abstract: polished
  // silicon below 1 K reflects more than 99 % like a mirror, and the conductivity found depends on the size
  // and the distance of the thermometers. The shapes here are ours.
  const bar = { width: 40, length: 5, thickness: 5, rays: 2 ** 16 };
  const faces = (p: number) => ({ lower: p, upper: p, front: p, back: p });

  it("conducts by its length: no length is long enough for a conductivity of its own", () => {
    const conductivity = (width: number, p: number) =>
      width * through({ ...bar, width, specularity: faces(p) });
    const grows = (p: number) => conductivity(80, p) / conductivity(40, p);
    expect(grows(0)).toBeLessThan(1.15);
    expect(grows(0.99)).toBeGreaterThan(1.8);
  });

  it("is bounded by the radiation law, and faces that scatter cost it most of that", () => {
    const [mirror, diffuse] = [0.99, 0].map((p) => through({ ...bar, specularity: faces(p) }));
    expect(mirror).toBeLessThan(1);
    expect(mirror).toBeGreaterThan(0.85);
    expect(mirror! / diffuse!).toBeGreaterThan(4);
  });

  it("conducts less the larger its thermometers are, which faces that scatter hardly show", () => {
    const film = (size: number): FaceContact => ({
      name: "thermometer",
      area: { face: "front", left: 20 - size / 2, right: 20 + size / 2, bottom: 0, top: 5 },
    });
    const cost = (p: number, size: number) => {
      const options = { ...bar, specularity: faces(p) };
      return 1 - through(options, film(size)) / through(options);
    };
    const [small, large] = [cost(0.99, 2), cost(0.99, 8)];
    expect(small).toBeGreaterThan(0.02);
    expect(large).toBeGreaterThan(2 * small);
    expect(Math.abs(cost(0, 8))).toBeLessThan(0.03);
  });
});

describe("a beam of silicon with a roughness of nanometres", () => {
  // K. Rostem et al., J. Appl. Phys. 115 (2014), arXiv:1403.1326, abstract: below 1 K the mean free path
  // depends strongly on a roughness of 5 to 10 nm at a wavelength of 0.6 µm; beams as long as the mean free
  // path are ballistic, their conductance set by the cross-section.
  const [fine, coarse] = [5, 10].map((roughness) => mirrorShare(roughness, 600)) as [
    number,
    number,
  ];
  const beam = (width: number, p: number): FlightOptions => ({
    width,
    length: 1,
    thickness: 1,
    specularity: { lower: p, upper: p, front: p, back: p },
    rays: 2 ** 17,
  });

  it("has a mean free path that a roughness of 10 in place of 5 nm cuts to a quarter", () => {
    const path = (p: number) => rodMeanFreePath({ width: 1, specularity: p });
    expect(path(fine) / path(coarse)).toBeCloseTo(4, 0);
    // So does the conductance of one far longer than both: 2000 sides.
    const ratio = through(beam(2000, fine)) / through(beam(2000, coarse));
    expect(ratio).toBeGreaterThan(2.5);
    expect(ratio).toBeLessThan(4);
  });

  it("is ballistic while it is short beside the mean free path, whatever its faces", () => {
    const short = [fine, coarse].map((p) => through(beam(5, p)));
    for (const share of short) expect(share).toBeGreaterThan(0.8);
    expect(short[0]! / short[1]!).toBeLessThan(1.15);
  });
});

describe("phonons that are fast", () => {
  const catalogue = standardCatalogue();
  // M. Martinez et al., Phys. Rev. Applied 11 (2019), arXiv:1805.02495, abstract: from 380 µm of silicon 0.30
  // to 0.55 of them pass into 60 nm of aluminium.
  it("pass into aluminium less than diffuse mismatch has it, by a factor of two and a third at most", () => {
    const [into, from] = ["aluminium", "silicon"].map((name) =>
      phononRadiation(catalogue.material(name).soundSpeeds()),
    ) as [number, number];
    const passed = into / (into + from);
    expect(passed / 0.55).toBeGreaterThan(1.2);
    expect(passed / 0.3).toBeLessThan(2.6);
  });
});

describe("rods whose faces reflect a share like a mirror", () => {
  /**
   * Mean free path of a square rod of side 1. Between two diffuse reflections a phonon flies along chords of
   * the square one after the other, by the same slope: Λ = (3π/8) ⟨L²⟩/⟨L⟩ for a length L in the plane
   * across, which for a round rod, whose chords are alike, is (1 + p)/(1 − p) times its diameter (J. M.
   * Ziman, Electrons and Phonons (1960), section 11.3; R. Berman, E. L. Foster and J. M. Ziman, Proc. R. Soc.
   * A 231, 130 (1955)). A square unfolds into a lattice: its chords lie between crossings of lines.
   */
  function byChords(p: number): number {
    let [squares, lengths] = [0, 0];
    const count = 400;
    for (let i = 0; i < count; i++) {
      for (let j = 0; j < count; j++) {
        const start = (i + 0.5) / count;
        const sine = (2 * (j + 0.5)) / count - 1; // weight cos φ dφ
        const [along, away] = [Math.abs(sine), Math.sqrt(1 - sine * sine)];
        let [kept, flown] = [1, 0];
        let [nextUp, nextSide] = [1 / away, (1 - start) / along];
        while (kept > 1e-9) {
          const to = Math.min(nextUp, nextSide);
          squares += kept * (to * to - flown * flown);
          lengths += kept * (to - flown);
          flown = to;
          if (nextUp <= nextSide) nextUp += 1 / away;
          else nextSide += 1 / along;
          kept *= p;
        }
      }
    }
    return ((3 * Math.PI) / 8) * (squares / lengths);
  }

  it("are summed right over their chords: Casimir's length without mirrors", () => {
    expect(byChords(0) / 1.11495).toBeCloseTo(1, 3);
  });

  it.each([0.5, 0.8])("conduct as the sum over chords has it, below Ziman's, for %s", (p) => {
    const wanted = byChords(p);
    const ziman = (1.11495 * (1 + p)) / (1 - p);
    expect(wanted / ziman).toBeLessThan(1);
    expect(wanted / ziman).toBeGreaterThan(0.8);
    const inverse = (width: number): [value: number, error: number] => {
      const specularity = { lower: p, upper: p, front: p, back: p };
      const options = { width, length: 1, thickness: 1, specularity, rays: 2 ** 20 };
      const flights = new Flights(options, ends(options));
      const share = -flights.exchange().admittance[1]! * flights.unit;
      return [1 / share, (flights.exchangeErrors()[1]! * flights.unit) / share ** 2];
    };
    // 1/W = 3L/(4Λ) and a constant for the ends.
    const [short, long] = [10 * ziman, 20 * ziman];
    const [near, far] = [inverse(short), inverse(long)];
    const slope = (far[0] - near[0]) / (0.75 * (long - short));
    const error = Math.hypot(near[1], far[1]) / (0.75 * (long - short));
    expect(error * wanted).toBeLessThan(0.03);
    expect(Math.abs(slope - 1 / wanted)).toBeLessThan(3 * error);
  });

  it("conduct as Fuchs has it for a plate, between mirrors and faces that scatter", () => {
    // K. Fuchs, Proc. Camb. Phil. Soc. 34, 100 (1938), with a mirror share p:
    // Λ = ℓ (1 − (3/2k)(1 − p) ∫₁^∞ (s⁻³ − s⁻⁵)(1 − e^(−ks))/(1 − p e^(−ks)) ds), k = t/ℓ; here u = 1/s.
    const [bulkLength, p] = [4, 0.5];
    const k = 1 / bulkLength;
    const integral = integrate(
      (u) => {
        const kept = Math.exp(-k / u);
        return ((u - u ** 3) * (1 - kept)) / (1 - p * kept);
      },
      0,
      1,
    );
    const fuchs = bulkLength * (1 - ((1.5 * (1 - p)) / k) * integral);
    const slab = (width: number): FlightOptions => ({
      width,
      length: 1,
      thickness: 1,
      bulkLength,
      specularity: { lower: 1, upper: 1, front: p, back: p },
      rays: 2 ** 20,
    });
    const [near, far] = [30, 90].map((width) => 1 / through(slab(width)));
    expect((0.75 * 60) / (far! - near!) / fuchs).toBeGreaterThan(0.98);
    expect((0.75 * 60) / (far! - near!) / fuchs).toBeLessThan(1.02);
  });
});
