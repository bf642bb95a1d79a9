/**
 * The numbers that enter a mount's network, with their sources.
 * @module
 */
import type { HeatStore } from "../conductor.js";
import { standardCatalogue } from "../materials/standard.js";
import type { Catalogue } from "../materials/types.js";
import { distinct, given, type Provenance } from "../provenance.js";
import { MountModel } from "./model.js";
import type { Mount } from "./mount.js";
import type { OperatingPoint } from "./operating-point.js";
import { readMount } from "./read.js";
import { correlationsOf } from "./things/correlations.js";
import type { InTime } from "./timed.js";

/** Each number once, in the order of use; the mount's own numbers with those it gave. */
export function provenanceOf(point: OperatingPoint): readonly Provenance[] {
  return listed({ ...point, conductors: point.conductors.values() });
}

/** The same for a run in time, with the numbers of the heat stores. */
export function provenanceInTime(inTime: InTime): readonly Provenance[] {
  const { links, nodes } = inTime.network;
  const conductors = links.map(({ conductor }) => conductor);
  const stores = nodes.flatMap(({ store }) => store ?? []);
  const used = new Set([...conductors, ...stores]);
  return listed({ ...inTime, conductors: used });
}

/** Lists the numbers of a mount when it is called. @param catalogue - the standard one when absent */
export function provenanceLater(
  mount: Mount,
  catalogue: Catalogue = standardCatalogue(),
): () => readonly Provenance[] {
  return () => provenanceOf(new MountModel(readMount(mount), catalogue).point());
}

type Used = Pick<OperatingPoint, "mount" | "loads" | "structure" | "cooling"> & {
  readonly conductors: Iterable<Pick<HeatStore, "provenance">>;
};

function listed({ mount, conductors, loads, structure, cooling }: Used): readonly Provenance[] {
  const rows: Provenance[] = [];
  for (const { provenance = [] } of [...conductors, ...loads.map(({ load }) => load)]) {
    rows.push(...provenance);
  }
  for (const { name, count } of structure.paths) {
    if (count && count(mount) > 1) rows.push(given(`${name}: number`, count(mount), ""));
  }
  for (const { name, temperature } of structure.warm) {
    rows.push(given(`${name}: temperature of the warm end`, temperature(mount), "K"));
  }
  if ("cooling" in cooling) rows.push(...cooling.cooling.provenance);
  else if (cooling.salt) rows.push(...cooling.salt.provenance);
  else rows.push(given("stage: temperature", cooling.temperature, "K"));
  for (const { names, coefficient, reason } of correlationsOf(mount).pairs) {
    const fields = names.map((name) => name.replace(/\.(\d+)/g, "[$1]"));
    const row = given(`${fields.join(", ")}: correlation`, coefficient, "");
    rows.push(reason === undefined ? row : { ...row, note: reason });
  }
  return distinct(rows);
}
