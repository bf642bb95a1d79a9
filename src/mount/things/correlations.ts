/**
 * Which spreads of a mount vary together: films of one bath, wires of one spool, numbers that one fit found.
 *
 * A coefficient is that of the normal scores z = Φ⁻¹(u), u the share of all values that lie below: for normal
 * spreads the ordinary coefficient of correlation, for log-normal ones that of the logarithms (a normal
 * copula; R. B. Nelsen, An Introduction to Copulas (2006), section 2.3.6). Each spread by itself stays as it
 * was written.
 * @module
 */
import { covarianceFactor } from "../../numerics/cholesky.js";
import { FieldError } from "../../units/errors.js";
import * as read from "../../units/fields.js";
import { type Thing, valueAt } from "../thing.js";

/** Spreads of which each two have the same coefficient of correlation. */
export interface PairCorrelation {
  /** Two or more: fields of the mount, or rows of the catalogue by key or quantity. */
  readonly of: readonly string[];
  /** Of each two of them, −1 to 1. */
  readonly coefficient: number;
  /** Why they vary together: `"one bath"`. */
  readonly reason?: string;
}

/** Spreads with a matrix of coefficients of correlation. */
export interface MatrixCorrelation {
  /** Two or more: fields of the mount, or rows of the catalogue by key or quantity. */
  readonly of: readonly string[];
  /** Row by row, in the order of `of`; 1 on the diagonal. */
  readonly matrix: readonly (readonly number[])[];
  /** Why they vary together. */
  readonly reason?: string;
}

/**
 * Spreads that vary together. Those that are named here and have none vary with nothing. A coefficient of 0
 * says that alike spreads of one film or one spool of wire do not.
 */
export type Correlation = PairCorrelation | MatrixCorrelation;

interface WithCorrelations {
  readonly correlations?: readonly read.Plain<Correlation>[];
}

/** No number of the mount that could be varied or fitted, so none that is told of. */
const coefficient: read.Field<number> = {
  read(written, at) {
    if (typeof written === "number" && Math.abs(written) <= 1) return written;
    throw new FieldError(at, "a coefficient of correlation from -1 to 1", written);
  },
};

const of = read.checked(
  read.list(
    read.textOf("a field of the mount, or a row of the catalogue"),
    "two fields or more",
    2,
  ),
  (names, at) => {
    const twice = names.find((name, i) => names.indexOf(name) !== i);
    if (twice !== undefined) throw new FieldError(at, "each field once", twice);
  },
);
const own = { of, reason: read.optional(read.text) };

export const correlations: Thing<readonly Correlation[], WithCorrelations> = {
  field: read.optional(
    read.list(
      read.oneForm<Correlation>()({
        coefficient: read.object<PairCorrelation>({ ...own, coefficient }),
        matrix: read.object<MatrixCorrelation>({
          ...own,
          matrix: read.list(
            read.list(coefficient, "a row of coefficients"),
            "a matrix of coefficients",
          ),
        }),
      }),
      "a list of what varies together",
    ),
  ),
  rules(mount) {
    const { correlations: all = [] } = mount;
    all.forEach((each, i) => {
      each.of.forEach((name, k) => {
        if (isRow(name) || typeof valueAt(mount, name) === "number") return;
        const wanted = 'a field with a number, such as "pads.thickness", or a row of the catalogue';
        throw new FieldError(`correlations[${i}].of[${k}]`, wanted, name);
      });
      if ("matrix" in each) demandMatrix(each, `correlations[${i}].matrix`);
    });
    correlationsOf(mount);
  },
};

/** Keys of rows, `materials/gold.csv:5`, and quantities, `gold: thermal conductivity`, have a colon. */
function isRow(name: string): boolean {
  return name.includes(":");
}

/** @throws FieldError for what is no matrix of correlations */
function demandMatrix({ of: names, matrix }: read.Plain<MatrixCorrelation>, field: string): void {
  const n = names.length;
  const isSquare = matrix.length === n && matrix.every((row) => row.length === n);
  if (!isSquare) throw new FieldError(field, `${n} rows of ${n} coefficients`, matrix);
  matrix.forEach((row, i) => {
    if (row[i] !== 1) throw new FieldError(`${field}[${i}][${i}]`, "1", row[i]);
    row.forEach((value, j) => {
      if (Math.abs(value - matrix[j]![i]!) <= 1e-9) return;
      throw new FieldError(`${field}[${i}][${j}]`, `as in row ${j}: ${matrix[j]![i]}`, value);
    });
  });
}

/** All that a mount says of what varies together. */
export interface Correlations {
  /** Fields and rows, each once. */
  readonly names: readonly string[];
  /** Coefficients, row by row in the order of the names; 0 where nothing is said. */
  readonly matrix: readonly Float64Array[];
  /** Each two that vary together. */
  readonly pairs: readonly {
    readonly names: readonly [string, string];
    readonly coefficient: number;
    readonly reason?: string;
  }[];
}

/**
 * What a mount says of what varies together, in one matrix.
 * @throws FieldError for a pair that is there twice, or coefficients that contradict each other
 */
export function correlationsOf({ correlations: all = [] }: WithCorrelations): Correlations {
  const names = [...new Set(all.flatMap((each) => each.of))];
  const matrix = names.map((_, i) => Float64Array.from(names, (_, j) => (i === j ? 1 : 0)));
  const pairs: Correlations["pairs"][number][] = [];
  const said = new Set<string>();
  all.forEach((each, e) => {
    each.of.forEach((a, i) => {
      for (let j = i + 1; j < each.of.length; j++) {
        const b = each.of[j]!;
        const value = "matrix" in each ? each.matrix[i]![j]! : each.coefficient;
        const [k, l] = [names.indexOf(a), names.indexOf(b)];
        const pair = `${Math.min(k, l)} ${Math.max(k, l)}`;
        if (said.has(pair))
          throw new FieldError(`correlations[${e}]`, "each two once", `${a}, ${b}`);
        said.add(pair);
        matrix[k]![l] = value;
        matrix[l]![k] = value;
        const { reason } = each;
        if (value === 0) continue;
        pairs.push({ names: [a, b], coefficient: value, ...(reason !== undefined && { reason }) });
      }
    });
  });
  if (!covarianceFactor(matrix)) {
    const wanted = "coefficients that can all be true at once (a positive semidefinite matrix)";
    throw new FieldError("correlations", wanted, pairs.map((p) => p.coefficient).join(", "));
  }
  return { names, matrix, pairs };
}

/** The same mount, with these names no longer among what varies together, and another entry if one is given. */
export function withCorrelations<M extends { readonly correlations?: readonly Correlation[] }>(
  mount: M,
  without: readonly string[],
  more: readonly Correlation[] = [],
): M {
  const left = (mount.correlations ?? []).flatMap((each): readonly Correlation[] => {
    const kept = each.of.flatMap((name, i) => (without.includes(name) ? [] : [i]));
    if (kept.length === each.of.length) return [each];
    if (kept.length < 2) return [];
    const names = kept.map((i) => each.of[i]!);
    return "matrix" in each
      ? [{ ...each, of: names, matrix: kept.map((i) => kept.map((j) => each.matrix[i]![j]!)) }]
      : [{ ...each, of: names }];
  });
  const { correlations: _, ...rest } = mount;
  const all = [...left, ...more];
  return (all.length === 0 ? rest : { ...rest, correlations: all }) as M;
}
