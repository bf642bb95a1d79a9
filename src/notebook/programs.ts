/**
 * Programs on the search path, and how this one was called.
 * @module
 */
import { accessSync, constants } from "node:fs";
import { basename, delimiter, join } from "node:path";
import { shortPath } from "./run/notebook.js";

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

/** How the command was called: `npm start --`, the name under which it is installed, or Node with its file. */
export function calledAs(
  program = process.argv[1] ?? "coldpath",
  environment: NodeJS.ProcessEnv = process.env,
): string {
  if (environment.npm_lifecycle_event === "start") return "npm start --";
  return program.endsWith(".js")
    ? `node ${shortPath(process.cwd(), program)}`
    : basename(program).replace(/\.cmd$/, "");
}
