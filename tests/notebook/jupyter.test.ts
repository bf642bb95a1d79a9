import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { node, root } from "./command-line.js";

const command = join(root, "dist/notebook/jupyter.js");

describe("npm run notebook", () => {
  it("keeps everything Jupyter writes in the project and runs the project's own tslab", async () => {
    const { code, stdout } = await node(command, "--print-environment");
    expect(code).toBe(0);
    const lines = stdout.trim().split("\n");
    for (const name of ["PATH", "DATA_DIR", "CONFIG_DIR", "RUNTIME_DIR"])
      expect(stdout).toContain(`export JUPYTER_${name}='${join(root, ".jupyter")}/`);
    for (const line of lines) expect(line).toContain(join(root, ".jupyter"));
    const file = join(root, ".jupyter/share/kernels/tslab/kernel.json");
    const { argv } = JSON.parse(readFileSync(file, "utf8"));
    expect(argv[1]).toBe(join(root, "node_modules/tslab/bin/tslab"));
    expect(existsSync(argv[1])).toBe(true);
  });

  it("says in one line how to get Jupyter when it is not there", async () => {
    const before = process.env.PATH;
    process.env.PATH = "/nowhere";
    const { code, stderr } = await node(command).finally(() => {
      process.env.PATH = before;
    });
    expect(code).toBe(1);
    expect(stderr).toMatch(/^Jupyter is not installed: .*jupyterlab.*\n$/);
  });
});
