/**
 * Programs on the search path.
 * @module
 */
import { accessSync, constants } from "node:fs";
import { delimiter, join } from "node:path";

export function isProgram(file: string): boolean {
  try {
    accessSync(file, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}

/** The file of the first of these programs that the search path has. */
export function findProgram(
  names: readonly string[],
  path = process.env.PATH ?? "",
): string | undefined {
  const folders = path.split(delimiter).filter((folder) => folder !== "");
  const endings = process.platform === "win32" ? [".exe", ".cmd"] : [""];
  return names
    .flatMap((name) => folders.flatMap((folder) => endings.map((end) => join(folder, name + end))))
    .find(isProgram);
}
