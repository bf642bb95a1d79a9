/**
 * Certified problems of nonlinear regression, as published.
 *
 * Source: NIST/ITL, Statistical Reference Datasets, Nonlinear Regression (1999). The files in strd/
 * hold the data, starting values and certified values of the published ones, read in copies that cite
 * them; the certified residual sum of squares, computed at the certified values, guards the data
 * against slips of copying.
 */
import { readdirSync, readFileSync } from "node:fs";

const folder = new URL("strd/", import.meta.url);

export interface StrdProblem {
  readonly name: string;
  readonly starts: readonly (readonly number[])[];
  readonly certified: readonly number[];
  readonly deviations: readonly number[];
  readonly sumOfSquares: number;
  readonly x: readonly number[];
  readonly y: readonly number[];
  model(b: ArrayLike<number>, x: number): number;
}

type Model = (b: readonly number[], x: number) => number;

/** Models, by their text in the files. */
const models: Readonly<Record<string, Model>> = {
  BoxBOD: ([b1, b2], x) => b1! * (1 - Math.exp(-b2! * x)),
  DanWood: ([b1, b2], x) => b1! * x ** b2!,
  Eckerle4: ([b1, b2, b3], x) => (b1! / b2!) * Math.exp(-0.5 * ((x - b3!) / b2!) ** 2),
  MGH09: ([b1, b2, b3, b4], x) => (b1! * (x ** 2 + x * b2!)) / (x ** 2 + x * b3! + b4!),
  MGH10: ([b1, b2, b3], x) => b1! * Math.exp(b2! / (x + b3!)),
  Misra1a: ([b1, b2], x) => b1! * (1 - Math.exp(-b2! * x)),
  Rat43: ([b1, b2, b3, b4], x) => b1! / (1 + Math.exp(b2! - b3! * x)) ** (1 / b4!),
  Roszman1: ([b1, b2, b3, b4], x) => b1! - b2! * x - Math.atan(b3! / (x - b4!)) / Math.PI,
  Thurber: ([b1, b2, b3, b4, b5, b6, b7], x) =>
    (b1! + b2! * x + b3! * x ** 2 + b4! * x ** 3) / (1 + b5! * x + b6! * x ** 2 + b7! * x ** 3),
};

/** Every file of strd/. */
export function strdProblems(): StrdProblem[] {
  return readdirSync(folder)
    .filter((file) => file.endsWith(".dat"))
    .sort()
    .map((file) => {
      const name = file.replace(/\.dat$/, "");
      const text = readFileSync(new URL(file, folder), "utf8");
      const rows = [...text.matchAll(/^ *b\d = +(\S+) +(\S+) +(\S+) +(\S+)$/gm)].map((match) =>
        match.slice(1).map(Number),
      );
      const data = text
        .slice(text.lastIndexOf("\nData:"))
        .split("\n")
        .slice(2)
        .filter((line) => line.trim() !== "")
        .map((line) => line.trim().split(/ +/).map(Number));
      const model = models[name]!;
      return {
        name,
        starts: [rows.map((row) => row[0]!), rows.map((row) => row[1]!)],
        certified: rows.map((row) => row[2]!),
        deviations: rows.map((row) => row[3]!),
        sumOfSquares: Number(/^Residual Sum of Squares: +(\S+)$/m.exec(text)![1]),
        x: data.map((row) => row[1]!),
        y: data.map((row) => row[0]!),
        model: (b, x) => model(Array.from(b), x),
      };
    });
}
