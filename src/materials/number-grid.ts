/**
 * A grid of numbers from CSV: one for each pixel, as a picture of the die.
 * @module
 */
import { FieldError } from "../units/errors.js";
import { readLines } from "./table.js";

/**
 * Numbers of the pixels of a die: lines of the text from its upper edge down, in each the pixels from
 * left to right. The rows that come back run from the lower edge up, as `map: { kind: "pixels" }` of a
 * load takes them. Lines that start with # are left out.
 * @param csv - text of the file
 * @param file - its name, for errors
 * @throws FieldError naming file, line and column for text in a number, or lines of unequal length
 */
export function readPixels(csv: string, file = "pixels.csv"): readonly (readonly number[])[] {
  const records = readLines(file, csv);
  if (records.length === 0) throw new FieldError(file, "at least one line of numbers", csv);
  const across = records[0]!.record.length;
  return records
    .map(({ record, place }) => {
      if (record.length !== across) {
        const wanted = `${across} numbers, as many as in the first line`;
        throw new FieldError(place, wanted, `${record.length}`);
      }
      return record.map((text, column) => {
        const value = text === "" ? Number.NaN : Number(text);
        if (Number.isFinite(value) && value >= 0) return value;
        throw new FieldError(`${place} column ${column + 1}`, "a number, 0 or more", text);
      });
    })
    .reverse();
}
