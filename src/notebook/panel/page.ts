/// <reference lib="dom" />
/**
 * The entry of the bundle that carries this library into a page, with the catalogue's texts: it
 * starts panels.
 * @module
 */
import { catalogueFrom } from "../../materials/catalogue.js";
import { readDataFolder } from "../../materials/files.js";
import type { Catalogue } from "../../materials/types.js";
import { LivePanel } from "./live.js";
import type { PanelData } from "./panel.js";

/**
 * The catalogue with the materials that a mount names; to read them all would take a page too long.
 * Factors on rows may be on any of them.
 */
function catalogueOf({ mount, catalogue }: PanelData): Catalogue {
  const { files: own, added, factors } = catalogue;
  const texts = own ?? readDataFolder();
  const names = new Set<unknown>();
  const collect = (value: unknown): void => {
    if (typeof value === "object" && value !== null) Object.values(value).forEach(collect);
    else names.add(value);
  };
  collect(mount);
  const wanted = ([name]: readonly [string, string]) => factors.length > 0 || names.has(name);
  const materials = Object.fromEntries(Object.entries(texts.materials).filter(wanted));
  return catalogueFrom({ files: { ...texts, materials }, added, factors });
}

function start(root: HTMLElement): void {
  if (root.classList.contains("panel-live")) return;
  const data = JSON.parse(root.querySelector(".panel-data")!.textContent!) as PanelData;
  new LivePanel(root, data, catalogueOf(data));
}

(globalThis as Record<string, unknown>).coldpathPanel = { start };
