/**
 * Drive the live panels of an open page as a reader would, from the keyboard, and hold what they say
 * against the library in Node.
 */
import { mkdtempSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import ts from "typescript";
import { thermalBudget } from "../dist/index.js";

const root = fileURLToPath(new URL("../", import.meta.url));
/** Relative; the page and Node run the same code, so no more than rounding lies between them. */
const tolerance = 1e-9;

/** Everything wrong with the panels of a page: an empty list when nothing is. */
export async function panelProblems(tab) {
  // A panel may stand in a folded section.
  await tab.evaluate(() => {
    for (const section of document.querySelectorAll("details.section")) section.open = true;
  });
  const panels = await tab.locator(".coldpath-panel").all();
  const problems = [];
  for (const panel of panels) {
    const say = (text) => problems.push(`panel ${panels.indexOf(panel) + 1}: ${text}`);
    try {
      await panel.and(tab.locator(".panel-live")).waitFor({ timeout: 20_000 });
      await drive(tab, panel, say);
    } catch (error) {
      say(String(error));
    }
  }
  return problems;
}

async function drive(tab, panel, say) {
  const sliders = await panel.locator('input[type="range"]').all();
  const sources = [];
  const settled = (state) =>
    panel.and(tab.locator(`[data-state="${state}"]`)).waitFor({ timeout: 60_000 });
  const source = () => panel.locator("textarea").inputValue();
  for (const [i, slider] of sliders.entries()) {
    await slider.focus();
    for (const key of ["ArrowRight", "PageUp", ...(i % 2 === 0 ? ["ArrowUp"] : ["PageDown"])]) {
      await tab.keyboard.press(key);
      await tab.waitForTimeout(30);
    }
    await settled("answered");
    const shown = Number(await panel.locator(".panel-chip").getAttribute("value"));
    const text = await source();
    const wanted = thermalBudget(mountOf(text)).chip.temperature;
    if (!(Math.abs(shown / wanted - 1) <= tolerance)) {
      say(`slider ${i + 1}: the page says ${shown} K, the library ${wanted} K`);
    }
    if (sources.at(-1) === text) say(`slider ${i + 1} changes nothing`);
    sources.push(text);
  }

  const rises = [];
  for (const name of ["nominal", "probable", "pessimistic"]) {
    const choice = panel.locator(`input[type="radio"][value="${name}"]`);
    if ((await choice.count()) === 0) break;
    await choice.check();
    await settled("answered");
    rises.push(Number(await panel.locator(".panel-chip").getAttribute("value")));
    if (name === "pessimistic") await panel.locator('input[value="nominal"]').check();
  }
  await settled("answered");
  if (rises.some((rise, k) => k > 0 && !(rise > rises[k - 1]))) {
    say(`the cases are not in their order: ${rises.join(", ")} K`);
  }

  const field = panel.locator('input[type="text"]').first();
  const before = await field.inputValue();
  await field.fill("-1");
  await settled("refused");
  const messages = await panel.locator('[role="alert"]:visible').allInnerTexts();
  if (messages.length !== 1 || !/expected .*got/.test(messages[0])) {
    say(`an impossible value is answered by ${JSON.stringify(messages)}`);
  }
  if ((await source()) !== sources.at(-1)) say("an impossible value reaches the mount");
  await field.fill(before);
  await settled("answered");
  if ((await panel.locator('[role="alert"]:visible').count()) > 0) say("the message stays");

  // A page that is refused the clipboard selects the text instead.
  await tab.evaluate(() => {
    Object.defineProperty(navigator, "clipboard", { value: undefined, configurable: true });
    document.execCommand = () => false;
  });
  await panel.getByRole("button", { name: "Copy mount" }).click();
  const selected = await tab.evaluate(() => {
    const { value, selectionStart, selectionEnd } = document.activeElement;
    return value.slice(selectionStart, selectionEnd);
  });
  if (selected !== sources.at(-1)) say("the mount is not selected where the clipboard is refused");
  for (const message of faults(sources.at(-1))) say(`the copied mount: ${message}`);
  await panel.getByRole("button", { name: "Reset" }).click();
  await settled("answered");
}

/** The mount that a copied text declares. */
function mountOf(text) {
  const { outputText } = ts.transpileModule(`${text}\nexport default mount;`, {
    compilerOptions: { module: ts.ModuleKind.CommonJS, target: ts.ScriptTarget.ES2022 },
  });
  const module = { exports: {} };
  new Function("exports", outputText)(module.exports);
  return module.exports.default;
}

/** What TypeScript finds wrong with a copied text. */
function faults(text) {
  const folder = mkdtempSync(join(tmpdir(), "copied-"));
  try {
    symlinkSync(join(root, "dist"), join(folder, "dist"));
    symlinkSync(join(root, "node_modules"), join(folder, "node_modules"));
    const file = join(folder, "cell.ts");
    writeFileSync(file, `${text.replace('"coldpath"', '"./dist/index.js"')}\nexport { mount };\n`);
    const program = ts.createProgram([file], {
      strict: true,
      noEmit: true,
      skipLibCheck: true,
      exactOptionalPropertyTypes: true,
      module: ts.ModuleKind.NodeNext,
      moduleResolution: ts.ModuleResolutionKind.NodeNext,
      target: ts.ScriptTarget.ES2022,
    });
    return ts
      .getPreEmitDiagnostics(program)
      .map(({ messageText }) => ts.flattenDiagnosticMessageText(messageText, " "));
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
