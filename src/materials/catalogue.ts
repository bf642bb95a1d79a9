/**
 * The catalogue: materials, joints and loads as read from the texts of data/.
 * @module
 */
import { FieldError, UnknownNameError } from "../units/errors.js";
import { makeMaterial } from "./material.js";
import { collect, groupLaws, provenanceOf, type Sources } from "./schema.js";
import { inSI, readRecords, readRows, sourceColumns } from "./table.js";
import type { Catalogue, CatalogueFiles, LawRecord, Material } from "./types.js";

/**
 * Reads and checks every file.
 * @throws FieldError naming file, line and column
 */
export function readCatalogue(files: CatalogueFiles): Catalogue {
  const sources = readSources("sources.csv", files.sources);
  const materials = new Map<string, Material>();
  for (const [name, csv] of entries("materials", files.materials)) {
    materials.set(name, readMaterial(name, csv, sources));
  }
  const laws = new Map<string, readonly LawRecord[]>();
  for (const folder of ["joints", "loads"] as const) {
    for (const [kind, csv] of entries(folder, files[folder])) {
      laws.set(`${folder}/${kind}`, readLaws(kind, csv, sources));
    }
  }
  return makeCatalogue(sources, materials, laws);
}

function makeCatalogue(
  sources: Sources,
  materials: ReadonlyMap<string, Material>,
  laws: ReadonlyMap<string, readonly LawRecord[]>,
): Catalogue {
  const names = [...materials.keys()].sort();
  return {
    materials: names,
    material(name, field = "material") {
      const found = materials.get(name);
      if (!found) throw new UnknownNameError(field, "material", name, names);
      return found;
    },
    laws(folder, kind) {
      const found = laws.get(`${folder}/${kind}`);
      if (found) return found;
      const known = [...laws.keys()].filter((key) => key.startsWith(`${folder}/`));
      throw new UnknownNameError(
        `catalogue.laws ${folder}`,
        "kind",
        kind,
        known.map((key) => key.slice(folder.length + 1)),
      );
    },
    withMaterial(name, csv, more) {
      checkName("material", name);
      const known = withSources(sources, more);
      const next = new Map(materials).set(name, readMaterial(name, csv, known));
      return makeCatalogue(known, next, laws);
    },
    withLaws(folder, kind, csv, more) {
      checkName(folder, kind);
      const known = withSources(sources, more);
      const added = readLaws(kind, csv, known);
      const key = `${folder}/${kind}`;
      const kept = (laws.get(key) ?? []).filter(
        (law) => !added.some((a) => a.property === law.property && a.sample === law.sample),
      );
      return makeCatalogue(known, materials, new Map(laws).set(key, [...kept, ...added]));
    },
  };
}

/** Publications with those of another text. @throws FieldError for a key that means another one */
function withSources(sources: Sources, more: string | undefined): Sources {
  if (more === undefined) return sources;
  const known = new Map(sources);
  for (const [key, text] of readSources("sources", more)) {
    if (!known.has(key)) known.set(key, text);
    else if (known.get(key) !== text) {
      throw new FieldError(`sources ${key}`, `the publication on file, ${known.get(key)}`, text);
    }
  }
  return known;
}

function readMaterial(name: string, csv: string, sources: Sources): Material {
  return makeMaterial(name, groupLaws(readRows(`${name}.csv`, csv), sources), sources);
}

/** Publications by key, as `Authors, Title, Journal (year)`. */
function readSources(file: string, csv: string): Sources {
  const sources = new Map<string, string>();
  for (const { place, text } of readRecords(file, csv, sourceColumns)) {
    const key = text.get("key")!;
    if (key === "" || sources.has(key)) {
      throw new FieldError(`${place} key`, "a key of its own", key);
    }
    const title = text.get("title")!;
    if (title === "") throw new FieldError(`${place} title`, "a title", title);
    const parts = [text.get("authors")!, title, text.get("journal")!].filter((part) => part !== "");
    const year = text.get("year")!;
    if (year !== "" && !/^\d{4}$/.test(year)) throw new FieldError(`${place} year`, "a year", year);
    sources.set(key, parts.join(", ") + (year === "" ? "" : ` (${year})`));
  }
  return sources;
}

/** Laws of a kind of joint or load; parameters in SI whatever their dimension. */
function readLaws(kind: string, csv: string, sources: Sources): LawRecord[] {
  return collect(readRows(`${kind}.csv`, csv), sources).map((rows) => {
    const { property, form, sample, from, to } = rows[0]!;
    const parameters = new Map(
      rows.map((row) => {
        const converted = inSI(row);
        const provenance = provenanceOf(kind, { ...converted, row }, sources);
        return [row.parameter, { value: converted.value, provenance }];
      }),
    );
    return {
      property,
      form,
      sample,
      parameters,
      range: {
        from: from ?? 0,
        to: to ?? Number.POSITIVE_INFINITY,
        of: `${kind}: ${property.replace(/_/g, " ")}${sample ? ` (${sample})` : ""}`,
        outside: "warn",
      },
      provenance: [...parameters.values()].map((datum) => datum.provenance),
    };
  });
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
