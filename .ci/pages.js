/**
 * Open each page in a folder in headless Chromium and look at it as a reader would:
 * node .ci/pages.js OUT [CHROMIUM]. Prints one line per check, "finished"
 * at its end, and leaves screenshots beside the pages; exits 1 when a check failed.
 */
import { mkdtempSync, readdirSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { pathToFileURL } from "node:url";
import { chromium } from "playwright-core";
import { accessProblems } from "./access.js";
import { panelProblems } from "./panels.js";

const [folder = "out", executablePath = "/usr/bin/chromium"] = process.argv.slice(2);
const args = [
  "--no-sandbox",
  "--disable-gpu",
  "--disable-quic",
  "--no-first-run",
  "--disable-background-networking",
  "--disable-component-update",
  "--disable-sync",
];
let failed = 0;

function check(what, problems) {
  const ok = problems.length === 0;
  if (!ok) failed++;
  console.log(`${ok ? "passed" : "FAILED"}: ${what}${ok ? "" : `\n  ${problems.join("\n  ")}`}`);
}

/** In the page: what is wrong with each figure. */
function figureProblems() {
  return [...document.querySelectorAll(".figure:not(.drawing)")].flatMap((figure, index) => {
    const name = `figure ${index + 1}`;
    const drawn = figure.querySelector("svg.main-svg");
    if (drawn === null || drawn.getBoundingClientRect().height < 50) return [`${name}: not drawn`];
    const cartesian = figure.querySelector(".cartesianlayer .subplot") !== null;
    const titled = (axis) =>
      [...figure.querySelectorAll(`[class*="${axis}title"]`)].some((e) => e.textContent.trim());
    return ["x", "y"]
      .filter((axis) => cartesian && !titled(axis))
      .map((axis) => `${name}: no title on its ${axis} axis`);
  });
}

const pages = readdirSync(folder).filter((name) => name.endsWith(".html"));
if (pages.length === 0) check(`pages in ${folder}`, ["there is none"]);
const profile = mkdtempSync(join(tmpdir(), "pages-"));
const context = await chromium.launchPersistentContext(profile, {
  executablePath,
  headless: true,
  args,
  viewport: { width: 1000, height: 900 },
});
try {
  for (const name of pages) {
    const url = pathToFileURL(resolve(folder, name)).href;
    const tab = await context.newPage();
    const complaints = [];
    const requests = [];
    tab.on("console", (message) => {
      if (["error", "warning"].includes(message.type())) complaints.push(message.text());
    });
    tab.on("pageerror", (error) => complaints.push(String(error)));
    tab.on("request", (request) => {
      if (request.url() !== url && !/^(data|blob):/.test(request.url()))
        requests.push(request.url());
    });
    await tab.goto(url, { waitUntil: "load", timeout: 60_000 });
    await tab.waitForTimeout(1500);
    const shot = join(folder, name.replace(/\.html$/, ""));
    check(`${name} draws every figure with titled axes`, await tab.evaluate(figureProblems));
    check(`${name} has panels that answer as the library does`, await panelProblems(tab));
    await tab.screenshot({ path: `${shot}.png`, fullPage: true });
    check(`${name} can be used without sight and by keyboard`, await accessProblems(tab));
    await tab.emulateMedia({ colorScheme: "dark" });
    await tab.screenshot({ path: `${shot}-dark.png`, fullPage: true });
    check(`${name} can be read in the dark`, await accessProblems(tab));
    await tab.setViewportSize({ width: 390, height: 800 });
    await tab.waitForTimeout(500);
    const wide = await tab.evaluate(() => document.documentElement.scrollWidth - innerWidth);
    check(`${name} fits a narrow window`, wide > 0 ? [`it is ${wide} px too wide`] : []);
    check(`${name} opens without a complaint`, complaints);
    check(`${name} asks for nothing outside itself`, requests);
    await tab.close();
  }
} finally {
  await context.close();
  rmSync(profile, { recursive: true, force: true });
}
console.log("finished");
process.exitCode = failed > 0 ? 1 : 0;
