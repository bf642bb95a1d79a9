/** Networks with mistakes in them: each is solved, or refused in words. */
import fc from "fast-check";
import { describe, it } from "vitest";
import { givenHeatStore, powerConductor } from "../../src/joints/index.js";
import { runInTime, solveSteady } from "../../src/network/index.js";
import { described, randomNetworks } from "../network/networks.js";
import { fuzz } from "./cases.js";
import { strange, strangeVersions } from "./strange.js";

/** Links as plain data, which are made conductors again after they were changed. */
const plain = randomNetworks.map((random) => {
  const { nodes, links } = described(random);
  const stored = { heatCapacity: 1e-9, at: 0.1, exponent: 1 };
  return {
    nodes: nodes.map((node, i) =>
      i % 2 === 0 && !("temperature" in node) ? { ...node, stored } : node,
    ),
    links: links.map(({ conductor, ...link }) => ({ ...link, law: { ...conductor.powers![0]! } })),
  };
});

/** As a network takes it, whatever it has become. */
function assembled(description: unknown): never {
  const { nodes, links } = (description ?? {}) as { nodes?: unknown; links?: unknown };
  const each = (list: unknown, make: (entry: Record<string, unknown>) => unknown) =>
    Array.isArray(list)
      ? Array.from(list, (entry: unknown) =>
          typeof entry === "object" && entry !== null ? make(entry as never) : entry,
        )
      : list;
  return {
    nodes: each(nodes, ({ stored, ...node }) =>
      stored === undefined ? node : { ...node, store: givenHeatStore(stored as never) },
    ),
    links: each(links, ({ law, ...link }) => {
      const { coefficient, exponent } = (law ?? {}) as { coefficient: number; exponent: number };
      return {
        ...link,
        conductor: law === undefined ? law : powerConductor(coefficient, exponent),
      };
    }),
  } as never;
}

/** Whoever asks for more steps than this waits for them. */
function patient({ maxSteps, ...rest }: { maxSteps?: unknown }) {
  const many = maxSteps === undefined || (typeof maxSteps === "number" && maxSteps > 2000);
  return { ...rest, maxSteps: many ? 2000 : maxSteps };
}

describe("a network with mistakes in it", () => {
  it("has temperatures, or is refused in words", () => {
    fuzz(0.1, strangeVersions(plain), (network) => solveSteady(assembled(network)));
  });

  it("is refused in words when it is no network at all", () => {
    fuzz(0.02, strange, (network) => solveSteady(network as never));
  });

  it("runs in time, or is refused in words", () => {
    fuzz(0.02, strangeVersions(plain), (network) =>
      runInTime(assembled(network), { duration: 1e-3, maxSteps: 2000, relativeTolerance: 1e-3 }),
    );
  });

  it("runs with strange options, or is refused in words", () => {
    const options = {
      duration: 1e-3,
      start: "steady",
      pulses: [{ time: 1e-4, node: "0", energy: 1e-15 }],
      crossings: [{ node: "0", temperature: 0.2 }],
      loads: [{ node: "0", breaks: [1e-4, 2e-4], watts: 1e-9 }],
      temperatures: [],
      relativeTolerance: 1e-3,
      absoluteTolerance: 1e-6,
      maxStep: 1e-4,
      maxSteps: 2000,
    };
    fuzz(0.03, fc.tuple(plain, strangeVersions(fc.constant(options))), ([network, given]) => {
      const { loads } = (given ?? {}) as { loads?: unknown };
      const watts = (load: { watts?: unknown }) =>
        typeof load.watts === "number" ? load.watts : Number.NaN;
      const timed = Array.isArray(loads)
        ? loads.map((load) => (load ? { ...load, power: () => watts(load) } : load))
        : loads;
      const all =
        typeof given === "object" && given !== null ? { ...patient(given), loads: timed } : given;
      const solution = runInTime(assembled(network), all as never);
      return [solution.times, solution.energy, solution.crossings, solution.message];
    });
  });

  it("of conductors that are not what they should be is refused in words", () => {
    const laws = fc.record({ conductance: strange, integral: strange, powers: strange });
    fuzz(
      0.02,
      fc.oneof(
        strange,
        laws,
        fc.record({ conductance: fc.func(fc.double()), integral: fc.func(fc.double()) }),
      ),
      (conductor) =>
        solveSteady({
          nodes: [
            { name: "a", load: 1e-9 },
            { name: "b", temperature: 0.1 },
          ],
          links: [{ name: "l", from: "a", to: "b", conductor: conductor as never }],
        }),
    );
  });
});
