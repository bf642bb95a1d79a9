/**
 * The catalogue: materials, joints and loads as read from the texts of data/.
 *
 * What is read is kept apart from the factors on its uncertain rows: a catalogue is a view of the same
 * laws through a function that gives the factor on a row, so that other factors cost no reading.
 * @module
 */
import { warnOutside } from "../conductor.js";
import { FieldError, UnknownNameError } from "../units/errors.js";
import { checkJointLaws } from "./joint-forms.js";
import {
  checkFactors,
  collect,
  datumOf,
  type FactorOf,
  type Law,
  makeLaw,
  variedRows,
} from "./law.js";
import { type MaterialFile, makeMaterial, materialFile } from "./material.js";
import { materialLaws } from "./schema.js";
import { readSources, type Sources, withSources } from "./sources.js";
import { inSI, readRows } from "./table.js";
import type {
  Catalogue,
  CatalogueFiles,
  CatalogueOrigin,
  Datum,
  LawRecord,
  Material,
  VariedRow,
} from "./types.js";

/** All that was read. */
interface Content {
  readonly files: CatalogueFiles;
  readonly added: CatalogueOrigin["added"];
  readonly sources: Sources;
  readonly materials: ReadonlyMap<string, MaterialFile>;
  /** By folder and kind, `joints/glue`. */
  readonly laws: ReadonlyMap<string, readonly Law[]>;
  /** Keys of all uncertain rows. */
  readonly keys: ReadonlySet<string>;
}

/**
 * Reads and checks every file.
 * @throws FieldError naming file, line and column
 */
export function readCatalogue(files: CatalogueFiles): Catalogue {
  const sources = readSources("sources.csv", files.sources);
  const materials = new Map<string, MaterialFile>();
  for (const [name, csv] of entries("materials", files.materials)) {
    materials.set(name, readMaterial(name, csv, sources));
  }
  const laws = new Map<string, readonly Law[]>();
  for (const folder of ["joints", "loads"] as const) {
    for (const [kind, csv] of entries(folder, files[folder])) {
      const file = `${folder}/${kind}`;
      laws.set(file, readLaws(file, csv, sources));
    }
  }
  return makeCatalogue(withKeys({ files, added: [], sources, materials, laws }));
}

/** The catalogue of an origin, as sent to a worker. */
export function catalogueFrom({ files, added, factors }: CatalogueOrigin): Catalogue {
  const all = added.reduce(
    (catalogue, { folder, name, csv, sources }) =>
      folder === "materials"
        ? catalogue.withMaterial(name, csv, sources)
        : catalogue.withLaws(folder, name, csv, sources),
    readCatalogue(files),
  );
  return factors.length === 0 ? all : all.withFactors(new Map(factors));
}

type Added = CatalogueOrigin["added"][number];

function addedText(folder: Added["folder"], name: string, csv: string, sources?: string): Added {
  return { folder, name, csv, ...(sources !== undefined && { sources }) };
}

/** What a catalogue adds to what was read. */
interface View {
  /** Factors on rows, by key. */
  readonly factors: ReadonlyMap<string, number>;
  readonly note?: (row: string) => void;
  /** The catalogue without the two, whose materials and laws serve where no factor enters. */
  readonly nominal?: Catalogue;
}

function makeCatalogue(content: Content, view: View = { factors: new Map() }): Catalogue {
  const { factors, note } = view;
  const factorOf: FactorOf = (key) => {
    note?.(key);
    return factors.get(key) ?? 1;
  };
  /** Whether a law or material may differ from that of the nominal catalogue. */
  const differs = ({ keys }: Pick<Law, "keys">) =>
    !view.nominal || note || keys.some((key) => factors.has(key));
  const materials = new Map<string, Material>();
  const records = new Map<string, readonly LawRecord[]>();
  let rows: readonly VariedRow[] | undefined;
  const withText = (other: Partial<Content>, text: Added, kept: readonly Law[]) => {
    const file = `${text.folder}/${text.name}.csv:`;
    const rest = new Set(kept.flatMap(({ keys }) => keys));
    // Rows of the text begin without factors.
    const own = [...factors].filter(([key]) => !key.startsWith(file) || rest.has(key));
    const added = [...content.added, text];
    return makeCatalogue(withKeys({ ...content, ...other, added }), {
      factors: new Map(own),
      ...(note && { note }),
    });
  };

  const catalogue: Catalogue = {
    materials: view.nominal?.materials ?? [...content.materials.keys()].sort(),
    origin: { files: content.files, added: content.added, factors: [...factors] },
    material(name, field = "material") {
      const known = materials.get(name);
      if (known) return known;
      const file = content.materials.get(name);
      if (!file) throw new UnknownNameError(field, "material", name, catalogue.materials);
      const made = differs(file) ? makeMaterial(file, factorOf) : view.nominal!.material(name);
      materials.set(name, made);
      return made;
    },
    laws(folder, kind) {
      const file = `${folder}/${kind}`;
      const known = records.get(file);
      if (known) return known;
      const laws = content.laws.get(file);
      if (!laws) {
        const files = [...content.laws.keys()].filter((known) => known.startsWith(`${folder}/`));
        const kinds = files.map((known) => known.slice(folder.length + 1));
        throw new UnknownNameError(`catalogue.laws ${folder}`, "kind", kind, kinds);
      }
      const made = laws.map((law, i) =>
        differs(law) ? recordOf(law, factorOf) : view.nominal!.laws(folder, kind)[i]!,
      );
      // A watched law reports each reading.
      if (!note) records.set(file, made);
      return made;
    },
    withMaterial(name, csv, more) {
      checkName("material", name);
      const sources = withSources(content.sources, more);
      const file = readMaterial(name, csv, sources);
      const materials = new Map(content.materials).set(name, file);
      return withText({ sources, materials }, addedText("materials", name, csv, more), []);
    },
    withLaws(folder, kind, csv, more) {
      checkName(folder, kind);
      const sources = withSources(content.sources, more);
      const file = `${folder}/${kind}`;
      const own = readLaws(file, csv, sources);
      const kept = (content.laws.get(file) ?? []).filter(
        (law) => !own.some((o) => o.property === law.property && o.sample === law.sample),
      );
      const laws = new Map(content.laws).set(file, [...kept, ...own]);
      return withText({ sources, laws }, addedText(folder, kind, csv, more), kept);
    },
    rows() {
      rows ??= lawsIn(content).flatMap((law) => variedRows(law, (key) => factors.get(key) ?? 1));
      return rows;
    },
    withFactors(more) {
      checkFactors(more, content.keys);
      const together = new Map(factors);
      for (const [key, factor] of more) together.set(key, factor * (factors.get(key) ?? 1));
      return makeCatalogue(content, {
        factors: together,
        ...(note && { note }),
        nominal: view.nominal ?? catalogue,
      });
    },
    watched: (own) =>
      makeCatalogue(content, { factors, note: own, nominal: view.nominal ?? catalogue }),
  };
  return catalogue;
}

function withKeys(content: Omit<Content, "keys">): Content {
  return { ...content, keys: new Set(lawsIn(content).flatMap(({ keys }) => keys)) };
}

function lawsIn({ materials, laws }: Pick<Content, "materials" | "laws">): readonly Law[] {
  return [...[...materials.values()].flatMap(({ all }) => all), ...[...laws.values()].flat()];
}

/** A law of a joint or a load whose uncertain rows are scaled by factors. */
function recordOf(law: Law, factorOf: FactorOf): LawRecord {
  const { property, form, sample, label, from, to } = law;
  let made: ReadonlyMap<string, Datum> | undefined;
  const parameters = () => {
    made ??= new Map([...law.parameters].map(([name, each]) => [name, datumOf(each, factorOf)]));
    return made;
  };
  return {
    property,
    form,
    sample,
    get parameters() {
      return parameters();
    },
    range: warnOutside(label, from, to),
    get provenance() {
      return [...parameters().values()].map(({ provenance }) => provenance);
    },
  };
}

function readMaterial(name: string, csv: string, sources: Sources): MaterialFile {
  return materialFile(name, materialLaws(name, readRows(`${name}.csv`, csv), sources));
}

/** Laws of a kind of joint or load; parameters in SI whatever their dimension. */
function readLaws(file: string, csv: string, sources: Sources): Law[] {
  const kind = file.slice(file.indexOf("/") + 1);
  const laws = collect(readRows(`${kind}.csv`, csv), sources).map((rows) =>
    makeLaw(file, rows, sources, inSI),
  );
  checkJointLaws(file, laws);
  return laws;
}

function entries(folder: string, texts: Readonly<Record<string, string>>): [string, string][] {
  if (typeof texts !== "object" || texts === null) {
    throw new FieldError(`catalogue.${folder}`, "texts of CSV files by name", texts);
  }
  const list = Object.entries(texts);
  for (const [name] of list) checkName(folder, name);
  return list;
}

function checkName(field: string, name: string): void {
  if (typeof name !== "string" || !/^[a-z0-9]+(-[a-z0-9]+)*$/.test(name)) {
    throw new FieldError(field, "a name in small letters, digits and hyphens", name);
  }
}
