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
      const sum = map.rows.flat().reduce((total, weight) => total + weight, 0);
      const rows = map.rows.map((row) => row.map((weight) => (power * weight) / sum));
      return { kind: "pixels", rows };
    }
  }
}
