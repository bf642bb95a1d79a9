/** What users may write for a quantity: each is a finite number in SI, or refused in words. */
import fc from "fast-check";
import { describe, it } from "vitest";
import { type Dimension, spread, toSI } from "../../src/index.js";
import { positive, share, wholeNumber } from "../../src/units/checks.js";
import { nearest, UnknownNameError } from "../../src/units/errors.js";
import { formatGiven, formatNumber, formatQuantity, formatShare } from "../../src/units/format.js";
import { unitFactor } from "../../src/units/quantity.js";
import { distributionOf, isSpread } from "../../src/units/spread.js";
import { fuzz } from "./cases.js";
import { quantityText, strange, strangeName } from "./strange.js";

const dimension = fc.constantFrom<Dimension>(
  "length",
  "area",
  "temperature",
  "power",
  "force",
  "resistance",
  "speed",
  "conductance",
  "energy",
  "frequency",
  "time",
  "angle",
);

describe("a quantity", () => {
  it("is a finite number in SI, or refused in words", () => {
    fuzz(0.08, fc.tuple(dimension, fc.oneof(strange, quantityText)), ([each, value]) => {
      const si = toSI("field", value, each);
      if (!Number.isFinite(si)) throw new TypeError(`${String(value)} became ${si}`);
      return positive("field", value, each);
    });
  });

  it("has a unit that is known, or none", () => {
    const symbols = fc.constantFrom(
      "m",
      "K",
      "W",
      "/",
      "^",
      "2",
      "-",
      " ",
      "(",
      ")",
      "e9",
      "µ",
      "[",
      "=",
    );
    const unit = fc.oneof(
      strangeName,
      fc.array(symbols, { maxLength: 8 }).map((all) => all.join("")),
    );
    fuzz(0.05, fc.tuple(unit, unit), ([from, to]) => {
      const factor = unitFactor(from, to);
      if (factor !== undefined && !(factor > 0)) throw new TypeError(`${from}: ${factor} ${to}`);
    });
  });

  it("has a spread with quantiles in order, or it is refused in words", () => {
    const end = fc.oneof(fc.double(), fc.double({ min: 0, max: 10 }), strange);
    const kind = fc.constantFrom("log-normal", "normal", "log-uniform", "uniform", "triangular");
    fuzz(0.04, fc.tuple(end, end, fc.oneof(kind, strange)), ([low, high, distribution]) => {
      const given = spread(low as number, high as number, { distribution } as never);
      if (!isSpread(given)) throw new TypeError("a spread that is none");
      const read = (value: unknown) => toSI("field", value, "length");
      const { quantile, median } = distributionOf(given, read, "field");
      return [median, quantile(0.1), quantile(0.9)];
    });
  });
});

describe("checks and printing", () => {
  it("of a share and of a whole number refuse in words", () => {
    fuzz(0.02, strange, (value) => share("field", value, "a share"));
    fuzz(0.02, strange, (value) => wholeNumber("field", value));
  });

  it("of any number in any unit are texts", () => {
    const unit = fc.constantFrom("K", "W/K", "", "m^2 K^4/W");
    fuzz(
      0.02,
      fc.tuple(fc.double({ noNaN: true }), unit, fc.integer({ min: 1, max: 8 })),
      (all) => {
        const [value, symbol, digits] = all;
        return [
          formatQuantity(value, symbol, digits),
          formatNumber(value, digits),
          formatShare(value),
          formatGiven(value, symbol),
        ];
      },
    );
  });

  it("of any name find the nearest, or none", () => {
    fuzz(0.02, fc.tuple(strangeName, fc.array(strangeName)), ([name, known]) => [
      nearest(name, known),
      new UnknownNameError("field", "name", name, known).message,
    ]);
  });
});
