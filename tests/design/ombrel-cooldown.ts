/**
 * How data/measurements/ombrel-cooldown.csv was made: the invented camera, with films of its own,
 * solved at three stage temperatures and eight heater powers, and read by thermometers with noise.
 */

import { type Mount, standardCatalogue } from "../../src/index.js";
import { MountModel } from "../../src/mount/model.js";
import { readMount } from "../../src/mount/read.js";
import { random } from "../../src/numerics/random.js";
import { exampleMount } from "../mount/example.js";

/** The camera with pads of a given electron-phonon coupling and boundary, in the two-node model. */
export function ombrelMount(coefficient: number, resistance: number): Mount {
  const mount = exampleMount();
  return {
    ...mount,
    die: { ...mount.die, model: "two nodes" },
    pads: { ...mount.pads!, coupling: { coefficient, exponent: 5 }, boundary: { resistance } },
  };
}

/** What the invented pads are like. */
export const ombrelTruth = { coefficient: 3.1e9, resistance: 7e-4 } as const;

const comment = `# INVENTED DATA, for practice: the Ombrel camera does not exist and nobody measured this.
# Made with coldpath by tests/design/ombrel-cooldown.ts: the mount of data/mounts/ombrel-camera.json, its
# pads with an electron-phonon coupling of 3.1e9 W/(m^3 K^5) and a boundary of 7e-4 m^2 K^4/W, a heater
# spread over the die, the two-node model of the die; normal noise of the stated uncertainties (seed 7), and
# both thermometers reading 0.4 % too high.
# The chip's thermometer stands at its hottest point. Uncertainties are standard ones.
`;

/** Text of the file. @param finer - by how much less the thermometers scatter than in the file */
export function ombrelCooldown(finer = 1): string {
  const mount = ombrelMount(ombrelTruth.coefficient, ombrelTruth.resistance);
  const heater = { kind: "given", name: "heater", power: 0 } as const;
  const compiled = new MountModel(
    readMount({ ...mount, loads: [...mount.loads, heater] }),
    standardCatalogue(),
  );
  const noise = random(7);
  const scale = 1.004;
  const read = (kelvin: number, uncertainty: number) =>
    (1e3 * kelvin * scale + uncertainty * noise.normal()).toFixed(finer === 1 ? 2 : 5);
  const lines = [60, 110, 200].flatMap((stage) =>
    [0, 5, 10, 20, 50, 100, 200, 400].map((power) => {
      compiled.set("stage", stage * 1e-3);
      compiled.set(`loads.${mount.loads.length}.power`, power * 1e-9);
      compiled.solve();
      const [ofChip, ofStage] = [0.15 / finer, 0.1 / finer];
      const chip = read(compiled.temperature(compiled.chip), ofChip);
      return [power, chip, ofChip, read(stage * 1e-3, ofStage), ofStage].join(",");
    }),
  );
  const header =
    "heater power [nW],chip [mK],chip uncertainty [mK],stage [mK],stage uncertainty [mK]";
  return `${comment}${[header, ...lines].join("\n")}\n`;
}
