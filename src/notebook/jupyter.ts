/**
 * The command `npm run notebook`: open the notebooks in Jupyter with this project's own kernel.
 * All that Jupyter writes (settings, keys, histories) goes to .jupyter/ in the project.
 * @module
 */
import { spawn } from "node:child_process";
import { mkdirSync, writeFileSync } from "node:fs";
import { delimiter, join } from "node:path";
import { fileURLToPath } from "node:url";
import { findProgram } from "./programs.js";
import { tslabCommand } from "./run/tslab.js";

const root = fileURLToPath(new URL("../../", import.meta.url));
const home = join(root, ".jupyter");

/** Variables that keep Jupyter inside the project and let it find the kernel first. */
function environment(): Record<string, string> {
  const inherited = process.env.JUPYTER_PATH;
  return {
    JUPYTER_PATH: [join(home, "share"), ...(inherited ? [inherited] : [])].join(delimiter),
    JUPYTER_DATA_DIR: join(home, "data"),
    JUPYTER_CONFIG_DIR: join(home, "config"),
    JUPYTER_RUNTIME_DIR: join(home, "runtime"),
    JUPYTERLAB_SETTINGS_DIR: join(home, "lab", "settings"),
    JUPYTERLAB_WORKSPACES_DIR: join(home, "lab", "workspaces"),
    IPYTHONDIR: join(home, "ipython"),
  };
}

/** Write the kernel's description: tslab of this project, run by this Node. */
function writeKernel(): void {
  const folder = join(home, "share", "kernels", "tslab");
  mkdirSync(folder, { recursive: true });
  const kernel = {
    argv: [process.execPath, tslabCommand(), "kernel", "--config-path", "{connection_file}"],
    display_name: "TypeScript (coldpath)",
    language: "typescript",
  };
  writeFileSync(join(folder, "kernel.json"), `${JSON.stringify(kernel, null, 2)}\n`);
}

/** Start Jupyter; its exit code is this program's. */
function start(words: readonly string[]): void {
  const program = findProgram(["jupyter-lab", "jupyter-notebook"]);
  if (program === undefined) {
    process.stderr.write(
      "Jupyter is not installed: `pip install jupyterlab` or `apt install jupyter-notebook`; `npm start` needs neither.\n",
    );
    process.exitCode = 1;
    return;
  }
  writeKernel();
  // Jupyter refuses to run as the superuser unless told that this is meant, as in a container.
  const asRoot = process.getuid?.() === 0 ? ["--allow-root"] : [];
  const child = spawn(program, [...asRoot, ...words], {
    cwd: join(root, "notebooks"),
    env: { ...process.env, ...environment() },
    stdio: "inherit",
  });
  child.on("error", (error) => {
    process.stderr.write(`${program} did not start: ${error.message}\n`);
    process.exitCode = 1;
  });
  child.on("exit", (code) => {
    process.exitCode = code ?? 1;
  });
  // Ctrl-C reaches Jupyter by itself, which asks back; this process waits for its answer.
  process.on("SIGINT", () => {});
  process.on("SIGTERM", () => child.kill("SIGTERM"));
}

const words = process.argv.slice(2);
if (words.includes("--help") || words.includes("-h")) {
  process.stdout.write(`Usage: npm run notebook [-- WORDS FOR JUPYTER]

Opens the notebooks in Jupyter (jupyter-lab or jupyter-notebook on the search path).

  --print-environment   write the kernel, print the variables that make Jupyter use it, stop
`);
} else if (words.includes("--print-environment")) {
  writeKernel();
  for (const [name, value] of Object.entries(environment()))
    process.stdout.write(`export ${name}='${value.replaceAll("'", "'\\''")}'\n`);
} else start(words);
