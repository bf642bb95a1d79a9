/**
 * The numbers that enter a mount's network, with their sources.
 * @module
 */
import type { HeatStore } from "../conductor.js";
import { standardCatalogue } from "../materials/standard.js";
import type { Catalogue } from "../materials/types.js";
import { distinct, given, type Provenance } from "../provenance.js";
import type { Mount } from "./description.js";
import type { InTime } from "./in-time.js";
import { type PlainMount, readMount } from "./read.js";
import { type Translation, translate } from "./translate.js";

type Used = Pick<Translation, "loads" | "structure"> & {
  readonly conductors: Iterable<Pick<HeatStore, "provenance">>;
};

/** Each number once, in the order of use; the mount's own numbers with those it gave. */
export function provenanceOf(mount: PlainMount, translation: Translation): readonly Provenance[] {
  return listed(mount, { ...translation, conductors: translation.conductors.values() });
}

/** The same for a run in time, with the numbers of the heat stores. */
export function provenanceInTime(mount: PlainMount, inTime: InTime): readonly Provenance[] {
  const { links, nodes } = inTime.network;
  const conductors = links.map(({ conductor }) => conductor);
  const stores = nodes.flatMap(({ store }) => store ?? []);
  return listed(mount, { ...inTime, conductors: new Set([...conductors, ...stores]) });
}

/** Lists the numbers of a mount when it is called. @param catalogue - the standard one when absent */
export function provenanceLater(mount: Mount, catalogue?: Catalogue): () => readonly Provenance[] {
  return () => {
    const plain = readMount(mount);
    return provenanceOf(plain, translate(plain, catalogue ?? standardCatalogue()));
  };
}

function listed(mount: PlainMount, { conductors, loads, structure }: Used): readonly Provenance[] {
  const rows: Provenance[] = [];
  for (const { provenance = [] } of [...conductors, ...loads.map(({ load }) => load)]) {
    rows.push(...provenance);
  }
  for (const { name, count } of structure.parts) {
    if (count && count(mount) > 1) rows.push(given(`${name}: number`, count(mount), ""));
  }
  for (const { name, temperature } of structure.warm) {
    rows.push(given(`${name}: temperature of the warm end`, temperature(mount), "K"));
  }
  const { stage } = structure;
  if ("cooling" in stage) rows.push(...stage.cooling.provenance);
  else if (stage.salt) rows.push(...stage.salt.provenance);
  else rows.push(given("stage: temperature", stage.temperature, "K"));
  return distinct(rows);
}
