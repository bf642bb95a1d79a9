/**
 * How the faces of a die are finished, and what share of phonons each reflects like a mirror.
 * @module
 */
import { recordOf } from "../../joints/laws.js";
import type { Catalogue } from "../../materials/types.js";
import { given, type Provenance } from "../../provenance.js";
import { type FieldsOf, optional, type Plain, text } from "../../units/fields.js";

/** Finish of the faces, by its name in data/joints/face.csv: `polished`, `lapped`, `diced`, `etched`. */
export interface Finish {
  /** Of the front; scatters all when absent. */
  readonly front?: string;
  /** Of the back, likewise. */
  readonly back?: string;
  /** Of the four sides, likewise. */
  readonly sides?: string;
}

export const finishFields: FieldsOf<Finish> = {
  front: optional(text),
  back: optional(text),
  sides: optional(text),
};

/** A die as its faces are told. */
interface WithFaces {
  readonly specularity?: number;
  readonly finish?: Plain<Finish>;
}

/** Share of mirror reflection of the faces, and where the numbers are from. */
export interface FaceShares {
  /** Of the front, 0 to 1. */
  readonly front: number;
  /** Of the back, 0 to 1. */
  readonly back: number;
  /** Of the four sides, 0 to 1. */
  readonly sides: number;
  readonly provenance: readonly Provenance[];
}

/**
 * What the faces reflect like a mirror: as given, by their finish, or nothing.
 * @throws UnknownNameError for a finish that the catalogue does not have
 */
export function faceShares(
  { specularity, finish = {} }: WithFaces,
  catalogue: Catalogue,
): FaceShares {
  if (specularity !== undefined) {
    const provenance = [given("die: specularity", specularity, "")];
    return { front: specularity, back: specularity, sides: specularity, provenance };
  }
  const provenance: Provenance[] = [];
  const share = (face: keyof Finish) => {
    const name = finish[face];
    if (name === undefined) return 0;
    const wanted = { kind: "face", key: face, what: "finish of a face", name, sample: undefined };
    const law = recordOf(wanted, catalogue, "die.finish");
    provenance.push(...law.provenance);
    // More than all cannot scatter, though the far end of a spread may say so.
    return 1 - Math.min(1, law.value("diffuse_share", ""));
  };
  const shares = { front: share("front"), back: share("back"), sides: share("sides") };
  return { ...shares, provenance: [...new Set(provenance)] };
}

/** Share of the two large faces together, that a sheet takes. */
export function plateSpecularity(own: WithFaces, catalogue: Catalogue): number {
  const { front, back } = faceShares(own, catalogue);
  return (front + back) / 2;
}
