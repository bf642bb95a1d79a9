/**
 * A file on disk: there whole or not at all.
 * @module
 */
import { randomUUID } from "node:crypto";
import { mkdirSync, renameSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";

/** A file could not be written; the message says which file and why. */
export class PageFileError extends Error {
  override readonly name = "PageFileError";
}

/**
 * Write `folder/name` through a file beside it that is renamed once complete, so an older one stays as it
 * was until the new one is there.
 * @returns the file's path
 * @throws PageFileError when the folder or the file cannot be written
 */
export function writeWhole(folder: string, name: string, text: string): string {
  const file = join(folder, name);
  if (name === "" || /[/\\\0]/.test(name)) {
    throw new PageFileError(
      `cannot write ${file}: the name must be one of a file, without folders`,
    );
  }
  // A name of its own: what a killed run left behind is in nobody's way.
  const half = join(folder, `.${randomUUID()}.tmp`);
  try {
    mkdirSync(folder, { recursive: true });
    try {
      writeFileSync(half, text, { flag: "wx" });
      renameSync(half, file);
    } finally {
      rmSync(half, { force: true });
    }
  } catch (error) {
    const { code, message } = error as NodeJS.ErrnoException;
    throw new PageFileError(`cannot write ${file}: ${reasons[code ?? ""] ?? message}`);
  }
  return file;
}

const reasons: Readonly<Record<string, string>> = {
  EACCES: "no permission to write there",
  EPERM: "no permission to write there",
  EROFS: "the file system is read-only",
  ENOSPC: "the disk is full",
  EEXIST: "a file stands where the folder should be",
  ENOTDIR: "a file stands where the folder should be",
  EISDIR: "a folder stands where the page should be",
  ENAMETOOLONG: "the name is too long",
  ENOTEMPTY: "a folder stands where the page should be",
};
