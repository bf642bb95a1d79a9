/**
 * A chip on a carrier by 200 bumps, both of 128 × 128 cells: first, and again with another load.
 * @module
 */
import { readMount, standardCatalogue } from "../../dist/index.js";
import { MountModel } from "../../dist/mount/index.js";
import { peakMemory, quick, quickest, report, timed } from "./harness.js";

const silicon = { material: "silicon", thickness: "0.5 mm", cells: 128 };
const mount = readMount({
  name: "flip chip",
  die: { ...silicon, width: "10 mm", length: "10 mm" },
  between: [
    {
      from: "die",
      to: "carrier",
      bumps: {
        material: "indium",
        residualResistivityRatio: 100,
        height: "10 um",
        diameter: "60 um",
        count: 200,
        pitch: "0.6 mm",
      },
    },
  ],
  dies: {
    carrier: {
      die: { ...silicon, width: "14 mm", length: "14 mm" },
      pads: {
        material: "gold",
        width: "300 um",
        length: "300 um",
        thickness: "500 nm",
        residualResistivityRatio: 5,
      },
      bonds: {
        material: "gold",
        count: 40,
        diameter: "25 um",
        length: "1.5 mm",
        residualResistivityRatio: 30,
      },
    },
  },
  box: {
    material: "copper",
    residualResistivityRatio: 50,
    crossSection: "50 mm^2",
    pathLength: "20 mm",
  },
  joint: { faces: "gold-plated copper on gold-plated copper", force: "1 kN", count: 2 },
  stage: "100 mK",
  loads: [{ kind: "given", power: "1 nW" }],
});
const catalogue = standardCatalogue();

function firstSolve() {
  const model = new MountModel(mount, catalogue);
  model.vary("loads.0.power");
  model.solve();
  return model;
}

const { seconds: first, value: model } = timed(firstSolve);
let k = 0;
const again = () => {
  model.set("loads.0.power", 1e-9 * (1 + (++k % 20) / 40));
  model.solve();
};
const { seconds } = quickest(Array.from({ length: quick ? 10 : 40 }, () => timed(again)));
const what = "two dies of 128², 200 bumps and 40 pads";
report([
  { what: `${what}, first`, ours: first, memory: peakMemory() },
  { what: `${what}, again`, ours: seconds, memory: peakMemory() },
]);
