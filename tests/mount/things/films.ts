/** What is tested of every film alike. */
import type { DrawnPart } from "../../../src/mount/thing.js";
import { length, maybe, name, purity, type Takes } from "./smallest.js";

/** Fields of a film; those of alternatives have tests of their own. */
export const filmFields: Readonly<Record<string, Takes>> = {
  material: name,
  thickness: length,
  residualResistivityRatio: maybe(purity),
  boundary: maybe({
    words: '"diffuse mismatch"',
    value: "diffuse mismatch",
    refused: ["perfect", 1],
  }),
  coupling: maybe({
    words: "an object with coefficient, exponent",
    value: { coefficient: 1e9, exponent: 5 },
    refused: ["strong", 1],
  }),
  phonons: maybe({ words: '"own" or "shared"', value: "shared", refused: ["both", 1] }),
};

/** The parts of a drawing of one kind. */
export const drawn = (all: readonly DrawnPart[], kind: string) =>
  all.find((part) => part.kind === kind);
