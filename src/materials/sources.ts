/**
 * The publications that the catalogue's numbers come from.
 * @module
 */
import { FieldError } from "../units/errors.js";
import { readRecords, sourceColumns } from "./table.js";

/** Texts of publications by key: `Authors, Title, Journal (year)`. */
export type Sources = ReadonlyMap<string, string>;

/** Reads the text of a file such as data/sources.csv. @throws FieldError naming file, line and column */
export function readSources(file: string, csv: string): Sources {
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
