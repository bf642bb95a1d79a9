/** CSV texts with mistakes in them: each is read, or refused with file, line and column. */
import fc from "fast-check";
import { describe, it } from "vitest";
import { readCatalogue, readDataFolder, readPixels } from "../../src/index.js";
import { spectrumFields, spectrumOf } from "../../src/loads/energy-spectrum.js";
import { coolingCurve, nightSky, radiation } from "../../src/loads/index.js";
import { readColumnNames, readNumberTable } from "../../src/materials/number-table.js";
import { fuzz } from "./cases.js";
import { strange, strangeName } from "./strange.js";

/** What is put into a text: what CSV and numbers are made of, and what breaks them. */
const piece = fc.oneof(
  fc.constantFrom(
    ...[
      ",",
      ",,",
      '"',
      '""',
      "\n",
      "\r",
      "\r\n",
      "\n\n",
      "#",
      "# comment\n",
      "[",
      "]",
      "[mK]",
      " ",
    ],
    ...[
      "\t",
      ";",
      "\u0000",
      "\ufeff",
      "\ufffd",
      "−1",
      "1e999",
      "-1",
      "0",
      "NaN",
      "Infinity",
      "1e-320",
    ],
    ...["__proto__", "constructor", "=1+1", "0x10", "1.2.3", "1,5", "x".repeat(2000)],
  ),
  fc.string({ maxLength: 6 }),
  fc.double().map(String),
);

/** A text that was cut, spliced, repeated or typed over. */
function typedOver(text: fc.Arbitrary<string>): fc.Arbitrary<string> {
  const edit = fc.oneof(
    fc.record({
      at: fc.double({ min: 0, max: 1, noNaN: true }),
      remove: fc.oneof(fc.constant(0), fc.nat({ max: 12 }), fc.constant(1e9)),
      insert: fc.oneof(fc.constant(""), piece),
    }),
    { weight: 2, arbitrary: fc.record({ digit: fc.nat(), insert: fc.constantFrom(...digits) }) },
  );
  return fc.tuple(text, fc.array(edit, { minLength: 1, maxLength: 3 })).map(([whole, edits]) =>
    edits.reduce((written, edit) => {
      if ("at" in edit) {
        const from = Math.floor(edit.at * (written.length + 1));
        return written.slice(0, from) + edit.insert + written.slice(from + edit.remove);
      }
      const places = [...written.matchAll(/\d/g)];
      const { index = 0 } = places[edit.digit % places.length] ?? {};
      return written.slice(0, index) + edit.insert + written.slice(index + 1);
    }, whole),
  );
}
const digits = ["0", "1", "9", "", "-", ".", "00", "e3", "e-9"] as const;

const curve = "# a cooler\ntemperature [mK],power [uW]\n90,0\n130,100\n500,10000\n";
const filter = "wavelength [um],transmission\n0.3,0.1\n2,0.9\n";
const spectrum = "energy [keV],rate [1/(keV s)]\n40,1e-4\n240,0\n";

describe("a table of numbers with mistakes in it", () => {
  it("is read, or refused", () => {
    const columns = [
      { name: "temperature", unit: "K" },
      { name: "power", unit: "W" },
    ];
    fuzz(0.06, typedOver(fc.constant(curve)), (csv) => readNumberTable(csv, "a.csv", columns));
    fuzz(0.01, typedOver(fc.constant(curve)), (csv) => readColumnNames(csv, "a.csv"));
  });

  it("is a cooling curve, or none", () => {
    fuzz(0.05, typedOver(fc.constant(curve)), (csv) => {
      const stage = coolingCurve({ csv });
      return [stage, stage.temperature(0), stage.temperature(stage.largestPower / 2)];
    });
  });

  it("is a filter, or none", () => {
    const rates = "frequency [GHz],transmission\n150000,0.9\n1000000,0.1\n";
    const sky = { pixels: 10, band: "V", sky: "dark", telescopeArea: 1, pixelScale: 1e-6 } as const;
    const hot = {
      source: { temperature: 300 },
      through: { modes: 1 },
      band: { from: 4e-7, to: 1e-6 },
    };
    fuzz(0.03, typedOver(fc.constantFrom(filter, rates)), (csv) =>
      nightSky({ ...sky, throughput: { csv } }),
    );
    fuzz(0.03, typedOver(fc.constantFrom(filter, rates)), (csv) =>
      radiation({ ...hot, absorption: { csv, shorter: 0, longer: 0 } }),
    );
  });

  it("is a spectrum of energies, or none", () => {
    fuzz(0.03, typedOver(fc.constant(spectrum)), (csv) =>
      spectrumOf(spectrumFields.read({ csv }, "spectrum"), "spectrum"),
    );
  });

  it("is pixels, or none", () => {
    fuzz(0.03, typedOver(fc.constant("1,2,3\n4,5,6\n")), (csv) => readPixels(csv));
  });

  it("is refused when it is no text", () => {
    fuzz(0.01, strange, (csv) => readPixels(csv as string));
    fuzz(0.01, strange, (csv) => coolingCurve({ csv: csv as string }));
  });
});

describe("a material with mistakes in its file", () => {
  const data = readDataFolder();
  const file = fc.constantFrom(...Object.values(data.materials).map((text) => text.slice(0, 6000)));
  const { sources, joints, loads } = data;

  it("conducts, or is refused", () => {
    fuzz(0.06, typedOver(file), (csv) => {
      const catalogue = readCatalogue({ sources, materials: { odd: csv }, joints: {}, loads: {} });
      const material = catalogue.material("odd");
      const law = material.thermalConductivity({
        meanFreePath: 1e-3,
        residualResistivityRatio: 10,
      });
      return [catalogue.materials, law.ranges, law.provenance, law.at(0.1), law.at(4)];
    });
  });

  it("stores heat, or is refused", () => {
    fuzz(0.02, typedOver(file), (csv) => {
      const materials = { odd: csv };
      const heat = readCatalogue({ sources, materials, joints: {}, loads: {} })
        .material("odd")
        .heatCapacity();
      return [heat.ranges, heat.value(0.1), heat.enthalpy(0.1)];
    });
  });

  it("and laws of joints and loads, and sources, are read or refused", () => {
    const law = fc.constantFrom(...Object.entries(joints), ...Object.entries(loads));
    fuzz(
      0.03,
      law.chain(([name, text]) => typedOver(fc.constant(text)).map((csv) => ({ name, csv }))),
      ({ name, csv }) =>
        readCatalogue({ sources, materials: {}, joints: { [name]: csv }, loads: {} }),
    );
    fuzz(0.01, typedOver(fc.constant(sources)), (csv) =>
      readCatalogue({ sources: csv, materials: {}, joints: {}, loads: {} }),
    );
  });

  it("may have any name, or is refused", () => {
    const gold = data.materials.gold!;
    const catalogue = readCatalogue({ ...data, materials: {} });
    fuzz(0.02, fc.tuple(strangeName, fc.oneof(strange, fc.constant(gold))), ([name, csv]) => {
      return catalogue.withMaterial(name, csv as string).material(name).name;
    });
  });

  it("is refused when it is no folder of texts", () => {
    fuzz(0.01, fc.tuple(strange, strange), ([a, b]) =>
      readCatalogue({ sources, materials: a, joints: b, loads: {} } as never),
    );
  });
});
