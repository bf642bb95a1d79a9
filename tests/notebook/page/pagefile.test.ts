import {
  chmodSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { writeWhole } from "../../../src/notebook/page/pagefile.js";

let folder = "";
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "coldpath-"));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

describe("writeWhole", () => {
  it("makes the folder, replaces an older page and leaves nothing else", () => {
    const out = join(folder, "a", "out");
    writeWhole(out, "x.html", "first");
    expect(writeWhole(out, "x.html", "second")).toBe(join(out, "x.html"));
    expect(readFileSync(join(out, "x.html"), "utf8")).toBe("second");
    expect(readdirSync(out)).toEqual(["x.html"]);
  });

  it("says so when a file stands where the folder should be", () => {
    writeFileSync(join(folder, "out"), "");
    expect(() => writeWhole(join(folder, "out"), "x.html", "")).toThrow(
      /^cannot write .*x\.html: a file stands where the folder should be$/,
    );
  });

  // Where Node's own way to make folders never returns.
  it.skipIf(process.platform !== "linux")("says so when no folder can be made there", () => {
    expect(() => writeWhole("/proc/out/deeper", "x.html", "")).toThrow(
      "cannot write /proc/out/deeper/x.html: no folder can be made there",
    );
  });

  it("says so when a folder stands where the page should be, and takes its own file away", () => {
    mkdirSync(join(folder, "x.html"));
    expect(() => writeWhole(folder, "x.html", "")).toThrow(
      /a folder stands where the page should be$/,
    );
    expect(readdirSync(folder)).toEqual(["x.html"]);
  });

  // The superuser may write anywhere, so this one needs an ordinary user.
  it.skipIf(process.getuid?.() === 0)("says so when it may not write there", () => {
    chmodSync(folder, 0o500);
    expect(() => writeWhole(folder, "x.html", "")).toThrow(/no permission to write there$/);
    chmodSync(folder, 0o700);
  });
});
