/**
 * What users rely on: box A is measured, its fit handed on, and the temperature of box B predicted. In 300
 * invented worlds, each with films of its own, the middle 90 % must hold the truth in nine of ten.
 */
import { describe, expect, it } from "vitest";
import { solveHere } from "../../../src/design/confidence/samples.js";
import { calibrate } from "../../../src/design/fitting/calibrate.js";
import { withMeasured } from "../../../src/design/fitting/saved-fit.js";
import { readThermometry } from "../../../src/design/fitting/thermometry.js";
import { confidence, type Mount, standardCatalogue, thermalBudget } from "../../../src/index.js";
import { MountModel } from "../../../src/mount/model.js";
import { readMount } from "../../../src/mount/read.js";
import { withCorrelations } from "../../../src/mount/things/correlations.js";
import { random } from "../../../src/numerics/random.js";
import { ombrelMount } from "../ombrel-cooldown.js";

const worlds = 300;
const inputs = ["pads.coupling.coefficient", "pads.boundary.resistance"] as const;

/** Box B: a larger die under more light, with a third of the bonds more. */
function boxB(box: Mount): Mount {
  return {
    ...box,
    name: "box B (invented)",
    die: { ...box.die, width: "40 mm", length: "40 mm" },
    bonds: { ...box.bonds!, count: 110 },
    loads: [...box.loads, { kind: "given", name: "more light", power: "20 nW" }],
  };
}

describe("the temperature of a second box, predicted from the first", () => {
  it("lies in its middle 90 % in nine of ten worlds", async () => {
    const chance = random(2027);
    const nominal = { ...ombrelMount(2.4e9, 1.26e-3), limit: { rise: 0.01 } };
    const heater = { kind: "given", name: "heater", power: 0 } as const;
    const model = new MountModel(
      readMount({ ...nominal, loads: [...nominal.loads, heater] }),
      standardCatalogue(),
    );
    const power = `loads.${nominal.loads.length}.power`;
    let [inside, parted] = [0, 0];
    for (let world = 0; world < worlds; world++) {
      const films = [
        2.4e9 * Math.exp(0.3 * chance.normal()),
        1.26e-3 * Math.exp(0.2 * chance.normal()),
      ];
      inputs.forEach((field, i) => {
        model.set(field, films[i]!);
      });
      const lines = [0.06, 0.2].flatMap((stage) =>
        [0, 10, 30, 100, 300].map((nW) => {
          model.set("stage", stage);
          model.set(power, 1e-9 * nW);
          model.solve();
          const read = 1e3 * model.temperature(model.chip) + 0.1 * chance.normal();
          return [nW, read, 0.1, 1e3 * stage].join(",");
        }),
      );
      const head = "heater power [nW],chip [mK],chip uncertainty [mK],stage [mK]";
      const data = readThermometry([head, ...lines].join("\n"));
      const fit = calibrate(nominal, data, { inputs, date: "2026-09-30" });
      const truth = thermalBudget(boxB(ombrelMount(films[0]!, films[1]!))).chip.temperature;
      const holds = async (mount: Mount) => {
        const options = { rows: "none", runner: solveHere, samples: 1024, seed: world } as const;
        const { band } = await confidence(mount, options);
        return band[0].value <= truth && truth <= band[1].value;
      };
      const next = withMeasured(boxB(nominal), fit.toInputsCsv().csv);
      if (await holds(next)) inside++;
      if (await holds(withCorrelations(next, inputs))) parted++;
    }
    // Three standard deviations of the binomial distribution: a right band leaves them once in 370.
    const slack = 3 * Math.sqrt(worlds * 0.9 * 0.1);
    expect(inside).toBeGreaterThanOrEqual(0.9 * worlds - slack);
    expect(inside).toBeLessThanOrEqual(0.9 * worlds + slack);
    // Each by itself the inputs are known less well: such a band would be far too wide.
    expect(parted).toBeGreaterThan(0.9 * worlds + slack);
  }, 600_000);
});
