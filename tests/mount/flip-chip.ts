/** A chip on bumps on a carrier, for tests; all invented. */
import type { Mount } from "../../src/index.js";

export const silicon = { material: "silicon", meanFreePath: "1 mm", cells: 32 } as const;
export const around = {
  box: {
    material: "copper",
    residualResistivityRatio: 50,
    crossSection: "50 mm^2",
    pathLength: "20 mm",
  },
  joint: { faces: "gold-plated copper on gold-plated copper", force: "1 kN", count: 2 },
  stage: "100 mK",
} as const;
/** A chip that bumps hold on a carrier, which is bonded and clamped. */
export const flipChip: Mount = {
  name: "flip chip",
  die: { ...silicon, width: "8 mm", length: "8 mm", thickness: "0.5 mm" },
  between: [
    {
      name: "bumps",
      from: "die",
      to: "carrier",
      bumps: {
        material: "indium",
        residualResistivityRatio: 100,
        diameter: "60 um",
        height: "10 um",
        count: 36,
        pitch: "1.2 mm",
      },
    },
  ],
  dies: {
    carrier: {
      die: { ...silicon, width: "14 mm", length: "14 mm", thickness: "0.5 mm" },
      pads: {
        material: "gold",
        width: "300 um",
        length: "300 um",
        thickness: "500 nm",
        residualResistivityRatio: 5,
      },
      bonds: {
        material: "gold",
        count: 24,
        diameter: "25 um",
        length: "1.5 mm",
        residualResistivityRatio: 30,
      },
      clamps: [{ conductance: "1 nW/K", at: "100 mK", exponent: 3, count: 4 }],
      loads: [{ kind: "given", name: "amplifier", power: "0.2 nW" }],
    },
  },
  ...around,
  loads: [{ kind: "given", name: "readout", power: "1 nW" }],
  limit: { rise: "20 mK" },
};

/** A chip glued on a carrier, which is glued into the box, and a die beside both. */
export const chipOnCarrier: Mount = {
  ...flipChip,
  name: "chip on a carrier",
  die: { ...silicon, width: "6 mm", length: "5 mm", thickness: "0.5 mm" },
  between: [
    {
      from: "die",
      to: "carrier",
      glue: {
        glue: "fast epoxy",
        area: "1 mm^2",
        count: 4,
        thickness: "50 um",
        heatOf: "stycast-1266",
      },
    },
  ],
  dies: {
    carrier: {
      ...flipChip.dies!.carrier!,
      glue: {
        glue: "epoxy",
        area: "4 mm^2",
        thickness: "30 um",
        count: 4,
        heatOf: "stycast-1266",
      },
    },
    second: {
      die: { material: "sapphire", width: "4 mm", length: "10 mm", thickness: "0.4 mm", cells: 16 },
      offset: { x: "10 mm", y: "1 mm" },
      patches: [
        {
          name: "plane",
          face: "front",
          material: "gold",
          thickness: "200 nm",
          residualResistivityRatio: 5,
          left: "1 mm",
          right: "3 mm",
          bottom: "4 mm",
          top: "6 mm",
        },
      ],
      clamps: [{ faces: "sapphire on silicon", force: "1.5 N", count: 4 }],
    },
  },
};
