/**
 * How the command was called, for its help.
 * @module
 */
import { basename } from "node:path";
import { shortPath } from "./run/notebook.js";

/** `npm start --`, the name under which it is installed, or Node with its file. */
export function calledAs(
  program = process.argv[1] ?? "coldpath",
  environment: NodeJS.ProcessEnv = process.env,
): string {
  if (environment.npm_lifecycle_event === "start") return "npm start --";
  return program.endsWith(".js")
    ? `node ${shortPath(process.cwd(), program)}`
    : basename(program).replace(/\.cmd$/, "");
}
