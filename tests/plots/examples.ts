/** What several tests of figures draw: the two-node mount's budget, and sweeps of it. */
import { sweep, thermalBudget } from "../../src/index.js";
import { quickMount } from "../mount/example.js";

export const mount = quickMount();
export const budget = thermalBudget(mount);
export const counts = sweep(mount, {
  field: "bonds.count",
  from: 10,
  to: 300,
  count: 12,
  spacing: "logarithmic",
});
export const map = sweep(
  mount,
  { field: "bonds.count", values: [20, 80, 300] },
  { field: "bonds.length", values: ["1 mm", "3 mm", "10 mm"] },
);
