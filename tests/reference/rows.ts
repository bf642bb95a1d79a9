/**
 * Published values against computed ones: every row of a file is compared; a row whose quantity no test
 * computes fails, and so does a computation that has no row.
 */
import { afterAll, describe, expect, it } from "vitest";
import { agrees, digitsAgreed, type Inputs, readReference } from "./read-rows.js";

export * from "./read-rows.js";

/**
 * One test per row of a file, and a summary of the digits that agree.
 * @param computations - how to compute a quantity, in SI, from a row's inputs
 */
export function checkReference(
  file: string,
  computations: Readonly<Record<string, (inputs: Inputs) => number>>,
): void {
  const rows = readReference(file);
  const compute = new Map(Object.entries(computations));
  const digits = new Map<string, number[]>();
  describe(`published values of ${file}`, () => {
    for (const row of rows) {
      it(`${row.place} ${row.quantity} (${row.inputsText}) agrees with ${row.source}`, () => {
        const computation = compute.get(row.quantity);
        expect(computation, `no test uses ${row.place}, ${row.quantity}`).toBeDefined();
        const computed = computation!(row.inputs);
        digits.set(row.quantity, [
          ...(digits.get(row.quantity) ?? []),
          digitsAgreed(row.value, computed),
        ]);
        expect(
          agrees(row, computed),
          `computed ${computed}, published ${row.value} ${row.unit}`,
        ).toBe(true);
      });
    }
    it("has a row for every computation", () => {
      const used = new Set(rows.map((row) => row.quantity));
      expect([...compute.keys()].filter((quantity) => !used.has(quantity))).toEqual([]);
    });
    afterAll(() => {
      const lines = [...digits].map(([quantity, found]) => {
        const sorted = found.sort((a, b) => a - b);
        const middle = sorted[Math.floor(sorted.length / 2)]!;
        return `  ${quantity}: ${found.length} rows, digits agreed ${sorted[0]!.toFixed(1)} at least, ${middle.toFixed(1)} in the middle`;
      });
      console.log([`${file}: ${rows.length} rows`, ...lines].join("\n"));
    });
  });
}
