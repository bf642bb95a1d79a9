/**
 * A page printed to PDF by a Chromium that is installed; none comes with this library.
 * @module
 */
import { spawn } from "node:child_process";
import { randomUUID } from "node:crypto";
import { existsSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join, resolve } from "node:path";
import { pathToFileURL } from "node:url";
import { findProgram, isProgram } from "../programs.js";
import { putInPlace } from "./pagefile.js";

/** No PDF was made; the message says what is missing or what went wrong. */
export class PdfError extends Error {
  override readonly name = "PdfError";
}

const names = ["chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome"];
/** A page of a notebook takes a few seconds. */
const patience = 120_000;

/** The browser: what the variable CHROMIUM names, else the first of its usual names on the search path. */
export function findChromium(environment: NodeJS.ProcessEnv = process.env): string {
  const given = environment.CHROMIUM;
  if (given) {
    if (isProgram(given)) return given;
    throw new PdfError(`no PDF: CHROMIUM names ${given}, which is no program that can be run`);
  }
  const found = findProgram(names, environment.PATH ?? "");
  if (found) return found;
  throw new PdfError(
    `no PDF: it is printed by Chromium, and none of ${names.join(", ")} is on the search path. Install it, ` +
      "or set CHROMIUM to its file, or open the page in any browser and print it there.",
  );
}

/**
 * Prints a page beside itself as `NAME.pdf`.
 * @returns the PDF's path
 * @throws PdfError when no browser is found, or when it fails
 */
export async function printPdf(page: string, environment = process.env): Promise<string> {
  const program = findChromium(environment);
  const pdf = `${page.replace(/\.html$/, "")}.pdf`;
  // Beside it, so that it can be renamed: an older one stays until the new one is there.
  const half = join(dirname(pdf), `.${randomUUID()}.pdf`);
  const profile = mkdtempSync(join(tmpdir(), "coldpath-print-"));
  // As the superuser, as in a container, Chromium has no sandbox to offer; the page allows its own scripts only.
  const asRoot = process.getuid?.() === 0 ? ["--no-sandbox"] : [];
  try {
    const said = await run(program, [
      "--headless",
      "--disable-gpu",
      ...asRoot,
      `--user-data-dir=${profile}`,
      "--no-first-run",
      "--disable-background-networking",
      "--no-pdf-header-footer",
      `--print-to-pdf=${resolve(half)}`,
      pathToFileURL(resolve(page)).href,
    ]);
    if (!existsSync(half))
      throw new PdfError(`no PDF: ${program} wrote none. It said:\n${said.slice(-500)}`);
    return putInPlace(half, pdf);
  } finally {
    rmSync(half, { force: true });
    rmSync(profile, { recursive: true, force: true, maxRetries: 3 });
  }
}

/** What the program says until it ends. */
function run(program: string, words: readonly string[]): Promise<string> {
  return new Promise((done, fail) => {
    const child = spawn(program, [...words], {
      stdio: ["ignore", "pipe", "pipe"],
      timeout: patience,
    });
    let said = "";
    child.stdout.on("data", (part) => (said += part));
    child.stderr.on("data", (part) => (said += part));
    child.on("error", (error) =>
      fail(new PdfError(`no PDF: ${program} did not start: ${error.message}`)),
    );
    child.on("close", () => done(said));
  });
}
