/** A disk that is full, and files that were cut in the middle. */
import { execFileSync } from "node:child_process";
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { readCatalogue } from "../../src/materials/catalogue.js";
import { readDataFolder } from "../../src/materials/files.js";
import { writeWhole } from "../../src/notebook/page/pagefile.js";
import { Desk } from "./command-line.js";

const desk = new Desk();
const slow = 60_000;
const isRoot = process.getuid?.() === 0;
afterAll(() => desk.remove());

describe("a page that can't be written", () => {
  const disk = isRoot ? smallDisk() : undefined;
  afterAll(() => disk && unmount(disk));
  // Needs the right to mount a file system in memory.
  it.skipIf(disk === undefined)(
    "leaves the older page on a full disk, and no half of the new",
    () => {
      writeWhole(disk!, "page.html", "older page");
      expect(() => writeWhole(disk!, "page.html", "x".repeat(1 << 20))).toThrow(
        /the disk is full$/,
      );
      expect(readdirSync(disk!)).toEqual(["page.html"]);
      expect(readFileSync(join(disk!, "page.html"), "utf8")).toBe("older page");
    },
  );
});

function smallDisk(): string | undefined {
  const folder = mkdtempSync(join(tmpdir(), "coldpath-disk-"));
  try {
    execFileSync("mount", ["-t", "tmpfs", "-o", "size=64k", "tmpfs", folder], { stdio: "ignore" });
    return folder;
  } catch {
    rmSync(folder, { recursive: true });
    return undefined;
  }
}

function unmount(folder: string): void {
  execFileSync("umount", [folder]);
  rmSync(folder, { recursive: true });
}

describe("a file of the data that was cut in the middle", () => {
  const data = readDataFolder();

  it("is refused with its name and line wherever the cut leaves a line unfinished", () => {
    const gold = data.materials.gold!;
    const header = gold.indexOf("property,form");
    let refused = 0;
    for (let at = header; at < gold.length; at += 37) {
      const materials = { gold: gold.slice(0, at) };
      try {
        readCatalogue({ ...data, materials });
      } catch (error) {
        refused++;
        expect((error as Error).message).toMatch(/^gold\.csv:\d+/);
      }
    }
    // A cut in the text of the last note can't be told from a shorter note.
    expect(refused).toBeGreaterThan((0.4 * (gold.length - header)) / 37);
  });

  it(
    "is a notebook that is refused, by the command, in one line",
    async () => {
      desk.put("quick", 'console.log("done");', "1");
      const whole = readFileSync(join(desk.folder, "quick.ipynb"), "utf8");
      writeFileSync(join(desk.folder, "cut.ipynb"), whole.slice(0, whole.length / 2));
      const { code, stderr } = await desk.run("cut");
      expect(code).toBe(2);
      expect(stderr).toMatch(/^notebook|cut\.ipynb: expected a notebook in JSON/);
      expect(stderr).not.toMatch(/\n\s+at /);
    },
    slow,
  );
});
