/**
 * The catalogue: materials, joints and loads as read from the texts of data/.
 * @module
 */
import { FieldError, UnknownNameError } from "../units/errors.js";
import { makeMaterial } from "./material.js";
import { collect, groupLaws, isWhole, type Law, provenanceOf, type Sources } from "./schema.js";
import { inSI, type Row, readRecords, readRows, sourceColumns } from "./table.js";
import type { Catalogue, CatalogueFiles, CatalogueOrigin, LawRecord, Material } from "./types.js";
import { checkFactors, rowKey, type VariedRow, variedRows } from "./varied.js";

/** A material with the laws it was made of. */
interface Made {
  readonly material: Material;
  readonly laws: readonly Law[];
}

/** A law of a joint or a load with the rows it was read from. */
interface Recorded {
  readonly record: LawRecord;
  readonly rows: readonly Row[];
}

/** All that a catalogue knows. */
interface Content {
  readonly origin: CatalogueOrigin;
  readonly sources: Sources;
  readonly materials: ReadonlyMap<string, Made>;
  /** By folder and kind, `joints/glue`. */
  readonly laws: ReadonlyMap<string, readonly Recorded[]>;
}

/**
 * Reads and checks every file.
 * @throws FieldError naming file, line and column
 */
export function readCatalogue(files: CatalogueFiles): Catalogue {
  const sources = readSources("sources.csv", files.sources);
  const materials = new Map<string, Made>();
  for (const [name, csv] of entries("materials", files.materials)) {
    materials.set(name, readMaterial(name, csv, sources));
  }
  const laws = new Map<string, readonly Recorded[]>();
  for (const folder of ["joints", "loads"] as const) {
    for (const [kind, csv] of entries(folder, files[folder])) {
      laws.set(`${folder}/${kind}`, readLaws(kind, csv, sources));
    }
  }
  return makeCatalogue({ origin: { files, added: [], factors: [] }, sources, materials, laws });
}

/** The catalogue of an origin, for a worker that was handed one. */
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

function makeCatalogue(content: Content): Catalogue {
  const { origin, sources, materials, laws } = content;
  const names = [...materials.keys()].sort();
  let rows: readonly VariedRow[] | undefined;
  const allRows = () => {
    rows ??= rowsOf(content);
    return rows;
  };
  let keys: ReadonlySet<string> | undefined;
  const allKeys = () => {
    keys ??= new Set(allRows().map(({ key }) => key));
    return keys;
  };
  return {
    materials: names,
    origin,
    material(name, field = "material") {
      const found = materials.get(name);
      if (!found) throw new UnknownNameError(field, "material", name, names);
      return found.material;
    },
    laws(folder, kind) {
      const found = laws.get(`${folder}/${kind}`);
      if (found) return found.map(({ record }) => record);
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
      return makeCatalogue({
        ...content,
        origin: withAdded(origin, { folder: "materials", name, csv, ...given(more) }),
        sources: known,
        materials: new Map(materials).set(name, readMaterial(name, csv, known)),
      });
    },
    withLaws(folder, kind, csv, more) {
      checkName(folder, kind);
      const known = withSources(sources, more);
      const added = readLaws(kind, csv, known);
      const key = `${folder}/${kind}`;
      const kept = (laws.get(key) ?? []).filter(
        ({ record: law }) =>
          !added.some(({ record: a }) => a.property === law.property && a.sample === law.sample),
      );
      return makeCatalogue({
        ...content,
        origin: withAdded(origin, { folder, name: kind, csv, ...given(more) }),
        sources: known,
        laws: new Map(laws).set(key, [...kept, ...added]),
      });
    },
    rows: allRows,
    withFactors(factors) {
      checkFactors(factors, allKeys());
      return makeCatalogue(varied(content, factors));
    },
  };
}

type Added = CatalogueOrigin["added"][number];

function withAdded(origin: CatalogueOrigin, added: Added): CatalogueOrigin {
  return { ...origin, added: [...origin.added, added] };
}

function given(sources: string | undefined): Pick<Added, "sources"> {
  return sources === undefined ? {} : { sources };
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

/** Everything in it that has an uncertainty. */
function rowsOf({ sources, materials, laws }: Content): VariedRow[] {
  const ofMaterials = [...materials].flatMap(([name, { laws: own }]) =>
    own.flatMap((law) =>
      variedRows({
        folder: "materials",
        form: law.form,
        rows: [...law.parameters.values()].map(({ row }) => row),
        whole: isWhole(law),
        provenance: (row) =>
          provenanceOf(
            name,
            { ...(law.parameters.get(row.parameter) ?? first(law)), row },
            sources,
          ),
      }),
    ),
  );
  const others = [...laws].flatMap(([key, own]) =>
    own.flatMap(({ record, rows }) => {
      const [folder, kind] = key.split("/") as [string, string];
      return variedRows({
        folder,
        form: record.form,
        rows,
        whole: record.form === "table",
        provenance: (row) => {
          const datum = record.parameters.get(row.parameter) ?? [...record.parameters.values()][0]!;
          const { value, unit, uncertainty } = datum.provenance;
          return provenanceOf(kind, { value, unit, uncertainty, row }, sources);
        },
      });
    }),
  );
  return [...ofMaterials, ...others];
}

function first(law: Law) {
  return [...law.parameters.values()][0]!;
}

/** The same content with rows larger by factors; what no factor touches is shared. */
function varied(content: Content, factors: ReadonlyMap<string, number>): Content {
  const { origin, sources } = content;
  const touched = new Set([...factors.keys()].map((key) => key.replace(/\.csv:\d+$/, "")));
  const of = (folder: string, row: Row) => factors.get(rowKey(folder, row)) ?? 1;
  const materials = new Map(
    [...content.materials].map(([name, made]): [string, Made] => {
      if (!touched.has(`materials/${name}`)) return [name, made];
      const laws = made.laws.map((law): Law => {
        if (isWhole(law)) {
          const factor = of("materials", first(law).row);
          return factor === 1 ? law : { ...law, factor: factor * (law.factor ?? 1) };
        }
        const parameters = mapped(law.parameters, (parameter) => {
          const factor = of("materials", parameter.row);
          return factor === 1 ? parameter : { ...parameter, value: factor * parameter.value };
        });
        return parameters === law.parameters ? law : { ...law, parameters };
      });
      const same = laws.every((law, i) => law === made.laws[i]);
      return [name, same ? made : { laws, material: makeMaterial(name, laws, sources) }];
    }),
  );
  const laws = new Map(
    [...content.laws].map(([key, own]): [string, readonly Recorded[]] => {
      if (!touched.has(key)) return [key, own];
      const folder = key.split("/")[0]!;
      return [key, own.map((each) => scaledRecord(each, (row) => of(folder, row)))];
    }),
  );
  const together = new Map(origin.factors);
  for (const [key, factor] of factors) together.set(key, factor * (together.get(key) ?? 1));
  return { sources, materials, laws, origin: { ...origin, factors: [...together] } };
}

function scaledRecord({ record, rows }: Recorded, factorOf: (row: Row) => number): Recorded {
  const whole = record.form === "table" ? factorOf(rows[0]!) : undefined;
  const rowOf = new Map(rows.map((row) => [row.parameter, row]));
  const parameters = mapped(record.parameters, (datum, name) => {
    const factor = whole ?? factorOf(rowOf.get(name)!);
    if (factor === 1) return datum;
    const value = factor * datum.value;
    return { value, provenance: { ...datum.provenance, value } };
  });
  if (parameters === record.parameters) return { record, rows };
  const provenance = [...parameters.values()].map((datum) => datum.provenance);
  return { record: { ...record, parameters, provenance }, rows };
}

/** A map with changed values; the same one when none changed. */
function mapped<V>(
  from: ReadonlyMap<string, V>,
  change: (value: V, key: string) => V,
): ReadonlyMap<string, V> {
  const to = new Map([...from].map(([key, value]) => [key, change(value, key)]));
  return [...from].every(([key, value]) => to.get(key) === value) ? from : to;
}

function readMaterial(name: string, csv: string, sources: Sources): Made {
  const laws = groupLaws(readRows(`${name}.csv`, csv), sources);
  return { laws, material: makeMaterial(name, laws, sources) };
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
function readLaws(kind: string, csv: string, sources: Sources): Recorded[] {
  return collect(readRows(`${kind}.csv`, csv), sources).map((rows) => {
    const { property, form, sample, from, to } = rows[0]!;
    const parameters = new Map(
      rows.map((row) => {
        const converted = inSI(row);
        const provenance = provenanceOf(kind, { ...converted, row }, sources);
        return [row.parameter, { value: converted.value, provenance }];
      }),
    );
    const record: LawRecord = {
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
    return { record, rows };
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
