/**
 * The publications that the catalogue's numbers come from.
 * @module
 */
import { FieldError } from "../units/errors.js";
import { readRecords, sourceColumns } from "./table.js";

/** Texts of publications by key: `Authors, Title, Journal (year), doi:…`. */
export type Sources = ReadonlyMap<string, string>;

/** Reads the text of a file such as data/sources.csv. @throws FieldError naming file, line and column */
export function readSources(file: string, csv: string): Sources {
  const sources = new Map<string, string>();
  for (const record of readRecords(file, csv, sourceColumns)) {
    const { place, key, authors, title, journal, year, doi } = record;
    if (key === "" || sources.has(key)) {
      throw new FieldError(`${place} key`, "a key of its own", key);
    }
    if (title === "") throw new FieldError(`${place} title`, "a title", title);
    if (year !== "" && !/^\d{4}$/.test(year)) throw new FieldError(`${place} year`, "a year", year);
    const parts = [authors, title, journal].filter((part) => part !== "").join(", ");
    const text = parts + (year && ` (${year})`) + (doi && `, doi:${doi}`);
    sources.set(key, text);
  }
  return sources;
}

/** Publications with those of another text. @throws FieldError for a key that stands for another one */
export function withSources(sources: Sources, more: string | undefined): Sources {
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
