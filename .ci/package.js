/**
 * Look at the package as those who install it will: what it holds, how its entries resolve, the README's
 * example and a use of every entry in an empty project and in a web page: node .ci/package.js [CHROMIUM [NODE...]].
 * Needs the built library and a registry. Prints one line per check and "finished" at its end; exits 1 when
 * a check failed.
 */
import { execFileSync } from "node:child_process";
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { createServer } from "node:http";
import { tmpdir } from "node:os";
import { basename, join } from "node:path";
import { fileURLToPath } from "node:url";
import { chromium } from "playwright-core";
import { publint } from "publint";
import { formatMessage } from "publint/utils";
import { build } from "vite";
import { heatFlow, wireBond } from "../dist/joints/index.js";

const [browser = "/usr/bin/chromium", ...nodes] = process.argv.slice(2);
const root = fileURLToPath(new URL("../", import.meta.url));
const work = mkdtempSync(join(tmpdir(), "coldpath-package-"));
let failed = 0;

async function check(what, run) {
  try {
    await run();
    console.log(`passed: ${what}`);
  } catch (error) {
    failed++;
    const said = [error.stdout, error.stderr].filter(Boolean).join("\n").trim();
    console.log(`FAILED: ${what}\n  ${said || error.message}`);
  }
}

function refuse(problems) {
  if (problems.length > 0) throw new Error(problems.join("\n  "));
}

const run = (cwd, program, ...words) =>
  execFileSync(program, words, { cwd, encoding: "utf8", stdio: ["ignore", "pipe", "pipe"] });

const [packed] = JSON.parse(
  run(root, "npm", "pack", "--json", "--ignore-scripts", "--pack-destination", work),
);
const tarball = join(work, packed.filename);
const names = packed.files.map(({ path }) => path);

const { exports: targets } = JSON.parse(readFileSync(join(root, "package.json"), "utf8"));
const entries = Object.values(targets)
  .map((target) => (target.default ?? target).slice("./".length))
  .filter((file) => file.endsWith(".js"));

await check("the package holds what its users need, and nothing else", () => {
  const wanted = [
    "dist/catalogue.js",
    "dist/notebook/command.js",
    "dist/notebook/panel/bundle.js",
    "data/sources.csv",
    "data/materials/gold.csv",
    "data/mounts/ombrel-camera.json",
    "notebooks/size-bonds.ipynb",
    "README.md",
    "LICENSE",
    "package.json",
    ...entries.flatMap((file) => [file, file.replace(".js", ".d.ts")]),
  ];
  const allowed = /^(dist\/.*(\.js|\.d\.ts)|data\/.*\.(csv|json)|notebooks\/[\w-]+\.ipynb)$/;
  const others = ["README.md", "notebooks/size-bonds.svg", "LICENSE", "package.json"];
  refuse([
    ...wanted.filter((name) => !names.includes(name)).map((name) => `${name} is missing`),
    ...names.filter((name) => !allowed.test(name) && !others.includes(name)),
    ...(packed.size > 1.2e6 ? [`${packed.size} bytes, compressed`] : []),
  ]);
});

await check("publint has nothing to say", async () => {
  const { messages, pkg } = await publint({ pkgDir: root, strict: true });
  // It would rather have conditions of "imports" than the field "browser"; these could name files of
  // dist only, and src would not run before it is built.
  const others = messages.filter(({ code }) => code !== "USE_EXPORTS_OR_IMPORTS_BROWSER");
  refuse(others.map((message) => formatMessage(message, pkg)));
});

await check("every entry resolves, with types, for those who use modules", () => {
  const cli = join(root, "node_modules/@arethetypeswrong/cli/dist/index.js");
  run(work, process.execPath, cli, tarball, "--profile", "esm-only");
});

const project = join(work, "project");
mkdirSync(project);
writeFileSync(join(project, "package.json"), '{"name":"empty","private":true,"type":"module"}');
await check("it installs in an empty project", () => {
  run(project, "npm", "install", "--no-audit", "--no-fund", "--prefer-offline", tarball);
});

const readme = readFileSync(join(root, "README.md"), "utf8");
const [, example] = /```ts\n([\s\S]*?)```\n/.exec(readme);
const [, answer] = /```ts\n[\s\S]*?```\n[^`]*(?:`[^`\n]+`[^`]*)*\n```\n([\s\S]*?)```/.exec(readme);
writeFileSync(join(project, "example.ts"), example);
writeFileSync(join(project, "page.ts"), example.replace('"coldpath"', '"coldpath/browser"'));

/** A program that takes every entry that runs anywhere, and the catalogue through one of them. */
const folders = Object.keys(targets)
  .filter((name) => targets[name].endsWith?.("/index.js"))
  .map((name) => name.slice("./".length));
const bond = { metal: "gold", diameter: "25 um", length: "1 mm", residualResistivityRatio: 30 };
const bondText = JSON.stringify(bond);
writeFileSync(
  join(project, "entries.ts"),
  [
    ...folders.map((name) => `import * as ${name} from "coldpath/${name}";`),
    `const all: object[] = [${folders.join(", ")}];`,
    "if (all.some((entry) => typeof entry !== 'object')) throw new Error('an entry is missing');",
    `console.log(String(joints.heatFlow(joints.wireBond(${bondText}), 0.2, 0.1)));`,
  ].join("\n"),
);
const flow = `${heatFlow(wireBond(bond), 0.2, 0.1)}\n`;

const tsc = join(root, "node_modules/typescript/bin/tsc");
const modes = { node16: "node16", bundler: "esnext", node10: "esnext" };
for (const [resolution, module] of Object.entries(modes)) {
  await check(`its types are found with moduleResolution ${resolution}`, () => {
    const files = ["example.ts", ...(resolution === "node10" ? [] : ["page.ts", "entries.ts"])];
    const words = ["--strict", "--target", "es2022", "--module", module, "--lib", "es2022,dom"];
    const where = ["--moduleResolution", resolution, "--outDir", "made"];
    run(project, process.execPath, tsc, ...words, ...where, ...files);
  });
}
for (const node of [process.execPath, ...nodes]) {
  await check(
    `the README's example says what the README says: ${run(work, node, "--version").trim()}`,
    () => {
      const said = run(project, node, "made/example.js");
      if (said !== answer) throw new Error(`it says:\n${said}`);
    },
  );
  await check("every entry can be imported there, and has the catalogue", () => {
    const said = run(project, node, "made/entries.js");
    if (said !== flow) throw new Error(`it says:\n${said}`);
  });
}
await check("its command runs from the project, and writes to its out/", () => {
  const said = run(project, process.execPath, "node_modules/.bin/coldpath", "--list");
  if (!said.includes("size-bonds")) throw new Error(said);
});

/** A page that prints what the README's example and the entries print, built by Vite, and served from its folder. */
async function sayingsOfPage() {
  const script = `globalThis.said = []; console.log = (line) => said.push(line);\n`;
  writeFileSync(
    join(project, "main.js"),
    `import "./say.js";\nimport "./made/page.js";\nimport "./made/entries.js";\n`,
  );
  writeFileSync(join(project, "say.js"), script);
  writeFileSync(
    join(project, "index.html"),
    '<!doctype html><title>page</title><script type="module" src="/main.js"></script>',
  );
  await build({ root: project, logLevel: "error", build: { chunkSizeWarningLimit: 2000 } });
  const opened = await chromium.launch({
    executablePath: browser,
    args: ["--no-sandbox", "--disable-gpu"],
  });
  const server = createServer((request, response) => {
    const name = request.url === "/" ? "index.html" : request.url;
    const type = name.endsWith(".js") ? "text/javascript" : "text/html";
    try {
      const text = readFileSync(join(project, "dist", name));
      response.writeHead(200, { "content-type": type }).end(text);
    } catch {
      response.writeHead(404).end();
    }
  });
  await new Promise((resolve) => server.listen(0, "127.0.0.1", resolve));
  try {
    const page = await opened.newPage();
    const errors = [];
    page.on("pageerror", (error) => errors.push(error.message));
    await page.goto(`http://127.0.0.1:${server.address().port}/`);
    await page
      .waitForFunction(() => globalThis.said?.length === 3, undefined, { timeout: 60_000 })
      .catch((error) => errors.push(error.message));
    refuse(errors);
    return (await page.evaluate(() => globalThis.said)).map((line) => `${line}\n`).join("");
  } finally {
    await opened.close();
    server.close();
  }
}
await check(`a page built by Vite says the same in ${basename(browser)}`, async () => {
  const said = await sayingsOfPage();
  if (said !== answer + flow) throw new Error(`it says:\n${said}`);
});

rmSync(work, { recursive: true, force: true });
console.log("finished");
process.exitCode = failed === 0 ? 0 : 1;
