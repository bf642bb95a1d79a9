/// <reference lib="dom" />
/**
 * The entry of the bundle that carries this library into a page: it hands over the catalogue's texts
 * and starts panels.
 * @module
 */
import { catalogueFrom } from "../../materials/catalogue.js";
import { supplyStandardCatalogue } from "../../materials/standard.js";
import type { Catalogue, CatalogueFiles } from "../../materials/types.js";
import { LivePanel } from "./live.js";
import type { PanelData } from "./panel.js";

let files: CatalogueFiles | undefined;

/** The texts of the catalogue, which the page carries. */
function supply(texts: CatalogueFiles): void {
  files = texts;
  supplyStandardCatalogue(() => texts);
}

/**
 * The catalogue with the materials that a mount names; to read them all would take a page too long.
 * Factors on rows may be on any of them.
 */
function catalogueOf({ mount, catalogue }: PanelData): Catalogue {
  const { files: own, added, factors } = catalogue;
  const texts = own ?? files!;
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

/** Starts a panel, once. */
function start(root: HTMLElement): void {
  if (root.classList.contains("panel-live") || files === undefined) return;
  const data = JSON.parse(root.querySelector(".panel-data")!.textContent!) as PanelData;
  new LivePanel(root, data, catalogueOf(data));
}

(globalThis as Record<string, unknown>).coldpathPanel = { supply, start };
