/**
 * Where a load falls on the die, as the chip takes it.
 * @module
 */
import type { PowerMap } from "../chip/power-map.js";
import type { Plain } from "../units/fields.js";
import type { LoadMap } from "./things/load.js";

/** A map with its power [W]. */
export function powerMap(map: Plain<LoadMap> | undefined, power: number): PowerMap {
  switch (map?.kind) {
    case undefined:
    case "uniform":
      return { kind: "uniform", power };
    case "rectangle": {
      const { left, right, bottom, top } = map;
      return { kind: "rectangle", power, over: { left, right, bottom, top } };
    }
    case "spot":
      return { ...map, power };
    case "pixels": {
      // In parts of the largest, whose sum is a number whatever they are.
      const largest = map.rows.reduce((most, row) => Math.max(most, ...row), 0);
      const parts = map.rows.map((row) => row.map((weight) => weight / largest));
      const sum = parts.flat().reduce((total, part) => total + part, 0);
      const rows = parts.map((row) => row.map((part) => power * (part / sum)));
      return { kind: "pixels", rows };
    }
  }
}
