/** How far a place is off by the chance of the flights: first order against small changes themselves. */
import { describe, expect, it } from "vitest";
import type { FaceContact } from "../../../src/chip/flights/face-contacts.js";
import { type FlightBody, Flights } from "../../../src/chip/flights/flights.js";
import type { Flown } from "../../../src/chip/flights/flown.js";
import { pathsOf, shardCount } from "../../../src/chip/flights/shards.js";
import { powerConductor } from "../../../src/conductor.js";
import { inverseOfPositive } from "../../../src/numerics/cholesky.js";

const die = { width: 1, length: 1, thickness: 0.2, cells: 4, rays: 512 };
const contacts: FaceContact[] = [
  { name: "a", area: { left: 0, right: 0.1, bottom: 0, top: 0.2 } },
  { name: "b", area: { left: 0, right: 0.1, bottom: 0.5, top: 0.9 } },
  { name: "c", area: { face: "back", left: 0.5, right: 0.8, bottom: 0.5, top: 0.8 } },
];
const band = { left: 0, right: 0.1, bottom: 0, top: 1 };
/** Θ = T, so that all is linear. */
const law = powerConductor(1, 1, { provenance: [] });
/** Each contact is linked to a bath. */
const links = [0.02, 0.3, 0.05];
const baths = [1, 3, 7];
const weights = Float64Array.from({ length: 16 }, (_, c) => (c === 9 ? 0.75 : c === 10 ? 0.25 : 0));

/** The contacts' temperatures, and Θ of the place, by a solve of all equations. */
function solved(flights: Flights, body: FlightBody) {
  const matrix = body.admittance.slice();
  links.forEach((link, p) => {
    matrix[4 * p]! += link;
  });
  const inverse = inverseOfPositive(matrix, 3) as Float64Array;
  const of = (heat: readonly number[]) =>
    heat.map((_, i) => heat.reduce((sum, each, j) => sum + inverse[3 * i + j]! * each, 0));
  const place = (temperatures: readonly number[], own: FlightBody) =>
    flights.field(own, temperatures).theta.reduce((sum, each, c) => sum + each * weights[c]!, 0);
  const temperatures = of(links.map((link, p) => link * baths[p]! + body.outflow[p]!));
  const idle = { ...body, met: new Float64Array(body.met.length), sources: [] };
  const gains = [0, 1, 2].map((p) => place(of([0, 1, 2].map((i) => Number(i === p))), idle));
  return { temperatures, gains, theta: place(temperatures, body) };
}

const mean = (values: readonly number[]) => values.reduce((a, b) => a + b, 0) / values.length;

describe.each([
  { name: "black contacts", bands: [], alphas: [1, 1, 1] },
  { name: "grey contacts", bands: [], alphas: [0.3, 1, 0.6] },
  { name: "contacts in a band", bands: [band], alphas: [0.5, 1, 1] },
])("the scatter of a place by its shards, with $name", ({ bands, alphas }) => {
  const paths = () => pathsOf(die, bands, bands.length > 0 ? contacts.slice(2) : contacts);
  const flown = () => new Flights(die, contacts, "die", paths());
  const usual = flown();

  it("is what some more of the phonons of a shard change", () => {
    // N and n of a shard counted 1 + ε times: d/dε is what it adds to the mean of 16.
    const shards = Array.from({ length: shardCount }, (_, k) => usual.flyShard(k));
    const more = (k: number, epsilon: number) => {
      const other = flown();
      shards.forEach((shard, i) => {
        const times = (values: Float64Array) =>
          values.map((value) => value * (i === k ? 1 + epsilon : 1));
        const { counts, maps, paths: lengths, starts } = shard;
        const scaled: Flown = {
          ...shard,
          counts: times(counts),
          maps: times(maps),
          paths: times(lengths),
          starts: times(starts),
        };
        other.take(i, scaled);
      });
      return solved(other, other.body(law, [], other.exchange(alphas))).theta;
    };
    const body = usual.body(law, [], usual.exchange(alphas));
    const { temperatures, gains } = solved(usual, body);
    const scatter = usual.scatter(body, temperatures, gains, weights);
    expect(mean(scatter)).toBeCloseTo(0, 10);
    const off = Math.max(...scatter.map(Math.abs));
    expect(off).toBeGreaterThan(0.01);
    for (const k of [0, 7, 15]) {
      const slope = (more(k, 1e-3) - more(k, -1e-3)) / 2e-3;
      expect(Math.abs(scatter[k]! / shardCount - slope)).toBeLessThan(1e-5 * off);
    }
  });

  it("is Θ by the phonons of the source in each shard", () => {
    const map = { kind: "uniform", power: 2 } as const;
    const exchange = usual.exchange(alphas);
    const body = usual.body(law, map, exchange);
    const [source] = body.sources;
    const { temperatures, gains } = solved(usual, body);
    const without = { ...body, sources: [] };
    const all = usual.scatter(body, temperatures, gains, weights);
    const ofContacts = usual.scatter(without, temperatures, gains, weights);
    const rises = source!.flights.rise.scatterOf(weights);
    const still = solved(usual, usual.body(law, [], exchange)).theta;
    for (const k of [0, 7, 15]) {
      const met = source!.flights.shards[k]!.map((share) => 2 * share);
      const own = { ...without, met, outflow: exchange.outflow(met) };
      const theta = solved(usual, own).theta - still + 2 * rises[k]!;
      expect(all[k]! - ofContacts[k]!).toBeCloseTo(theta, 10);
    }
  });
});
