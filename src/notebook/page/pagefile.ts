/**
 * A file on disk: there whole or not at all.
 * @module
 */
import { randomUUID } from "node:crypto";
import { mkdirSync, renameSync, rmSync, statSync, writeFileSync } from "node:fs";
import { dirname, join, resolve } from "node:path";

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
  return writing(file, () => {
    makeFolder(resolve(folder));
    try {
      writeFileSync(half, text, { flag: "wx" });
      renameSync(half, file);
    } finally {
      rmSync(half, { force: true });
    }
  });
}

/** Moves a file that another program wrote whole to where an older one may stand. @throws PageFileError */
export function putInPlace(half: string, file: string): string {
  return writing(file, () => renameSync(half, file));
}

/** Runs what writes a file, and says why it could not. */
function writing(file: string, write: () => void): string {
  try {
    write();
  } catch (error) {
    const { code, message } = error as NodeJS.ErrnoException;
    throw new PageFileError(`cannot write ${file}: ${reasons[code ?? ""] ?? message}`);
  }
  return file;
}

/**
 * A folder and those it is in. Node's own `recursive` never returns on some file systems that take no
 * folder at all, such as /proc; this tries each once.
 */
function makeFolder(folder: string): void {
  if (statSync(folder, { throwIfNoEntry: false })?.isDirectory()) return;
  if (dirname(folder) !== folder) makeFolder(dirname(folder));
  try {
    mkdirSync(folder);
  } catch (error) {
    // Another run may have made it in the meantime.
    if (!statSync(folder, { throwIfNoEntry: false })?.isDirectory()) throw error;
  }
}

const reasons: Readonly<Record<string, string>> = {
  EACCES: "no permission to write there",
  EPERM: "no permission to write there",
  EROFS: "the file system is read-only",
  ENOSPC: "the disk is full",
  EEXIST: "a file stands where the folder should be",
  ENOTDIR: "a file stands where the folder should be",
  EISDIR: "a folder stands where the page should be",
  ENOENT: "no folder can be made there",
  ENAMETOOLONG: "the name is too long",
  ENOTEMPTY: "a folder stands where the page should be",
};
