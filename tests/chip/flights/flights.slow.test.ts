/** Phonons that diffuse: in the bulk, in a plate and in rods, against transport theory. */
import { describe, expect, it } from "vitest";
import type { FlightOptions } from "../../../src/chip/flights/box.js";
import type { FaceContact } from "../../../src/chip/flights/face-contacts.js";
import { Flights } from "../../../src/chip/flights/flights.js";
import type { PowerMap } from "../../../src/chip/power-map.js";
import { plateMeanFreePath } from "../../../src/materials/phonons.js";
import { integrate } from "../../../src/numerics/quadrature.js";

const even: PowerMap = { kind: "uniform", power: 1 };
const mirrored = { lower: 1, upper: 1, front: 1, back: 1 };

const endOf = (name: "left" | "right", length = 1, thickness = 1): FaceContact => ({
  name,
  area: { face: name, left: 0, right: length, bottom: 0, top: thickness },
});

/** Mean free path along x: ¾ W over the slope of the density in the middle half. */
function lengthAlong(options: FlightOptions): number {
  const { width, length, thickness } = options;
  const ends = (["left", "right"] as const).map((name) => endOf(name, length, thickness));
  const flights = new Flights({ ...options, cellsX: 32, cellsY: 1 }, ends);
  const density = flights.influences(0);
  let moment = 0;
  let square = 0;
  for (let c = 8; c < 24; c++) {
    const x = ((c - 15.5) / 32) * width;
    moment -= x * density[c]!;
    square += x * x;
  }
  const through = (-flights.exchange().admittance[1]! * flights.unit) / (length * thickness);
  return (0.75 * through * square) / moment;
}

describe("phonons", () => {
  it("that scatter in the bulk far more often diffuse, with the extrapolation length of Hopf", () => {
    // W = (4/3)/(τ + 2·0.7104) for a slab τ scattering lengths thick: E. Hopf, Mathematical Problems of
    // Radiative Equilibrium (1934). The mean flight of heat that comes up evenly in it follows from the
    // same diffusion, D = vℓ/3: L²/(4ℓ) + (3/2)·0.7104 L.
    const [length, bulkLength] = [1, 0.02];
    const flights = new Flights(
      { width: length, length: 1, thickness: 1, bulkLength, specularity: mirrored, rays: 2 ** 18 },
      [endOf("left"), endOf("right")],
    );
    const through = -flights.exchange().admittance[1]! * flights.unit;
    const error = flights.exchangeErrors()[1]! * flights.unit;
    const hopf = 4 / 3 / (length / bulkLength + 2 * 0.7104);
    expect(Math.abs(through - hopf)).toBeLessThan(3 * error);
    expect(error / hopf).toBeLessThan(0.05);
    const { meanPath } = flights.source(even, "power", "bulk");
    const diffuse = length ** 2 / (4 * bulkLength) + 1.5 * 0.7104 * length;
    expect(Math.abs(meanPath / diffuse - 1)).toBeLessThan(0.01);
    // The sheet, Θ = (4/3) σ ℓ t T⁴: a parabola, whose middle is L²P/8 above the ends.
    const cells = flights.source(even, "power", "bulk").rise.cells;
    const column = (i: number) => {
      let sum = 0;
      for (let j = 0; j < 32; j++) sum += cells[32 * j + i]! / 32;
      return sum;
    };
    const ends = (column(0) + column(31)) / 2;
    const middle = (column(15) + column(16)) / 2;
    const x = 15.5 / 32;
    const sheet = (x ** 2 / 2 - (0.5 / 32) ** 2 / 2) / ((4 / 3) * bulkLength);
    expect((middle - ends) / sheet).toBeGreaterThan(0.98);
    expect((middle - ends) / sheet).toBeLessThan(1.02);
  });

  it("in a plate with diffuse faces and a length in the bulk conduct as Fuchs has it", () => {
    // K. Fuchs, Proc. Camb. Phil. Soc. 34, 100 (1938): Λ = ℓ(1 − (3/2k) ∫₁^∞ (s⁻³ − s⁻⁵)(1 − e^(−ks)) ds),
    // k = t/ℓ; with u = 1/s the integral runs from 0 to 1.
    const [thickness, bulkLength] = [1, 6];
    const k = thickness / bulkLength;
    const integral = integrate((u) => (u - u ** 3) * (1 - Math.exp(-k / u)), 0, 1);
    const fuchs = bulkLength * (1 - (1.5 / k) * integral);
    const found = lengthAlong({
      width: 60,
      length: 1,
      thickness,
      bulkLength,
      specularity: { lower: 1, upper: 1 },
      rays: 2 ** 23,
    });
    expect(found / fuchs).toBeGreaterThan(0.98);
    expect(found / fuchs).toBeLessThan(1.02);
    // The limit of a thin plate, which the diffusive die takes, leaves out a constant beside the logarithm.
    const limit = plateMeanFreePath({ thickness, width: bulkLength });
    expect(Math.abs(fuchs - limit) / thickness).toBeLessThan(0.4);
  });
});
