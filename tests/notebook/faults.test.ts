/** What goes wrong around a page: no room, no right to write, a run that is cut short, two at once. */
import { execFileSync, spawn } from "node:child_process";
import {
  chmodSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { readCatalogue } from "../../src/materials/catalogue.js";
import { readDataFolder } from "../../src/materials/files.js";
import { writeWhole } from "../../src/notebook/page/pagefile.js";
import { Desk, root, showModule } from "./command-line.js";

const desk = new Desk();
const slow = 60_000;
const isRoot = process.getuid?.() === 0;
const imported = `import { answer } from ${JSON.stringify(showModule)};`;

beforeAll(() => {
  desk.put("quick", imported, 'answer(["done"]);');
  // Says that it runs, then waits until it is stopped.
  const flag = JSON.stringify(join(desk.folder, "started"));
  desk.put(
    "endless",
    `import { writeFileSync } from "node:fs";\nwriteFileSync(${flag}, "");`,
    "await new Promise((resolve) => setTimeout(resolve, 600_000));",
  );
});
afterAll(() => desk.remove());

/** A run of the endless notebook that is stopped in its second cell. */
async function stopped(out: string, signal: "SIGINT" | "SIGKILL" | "SIGTERM") {
  const started = join(desk.folder, "started");
  rmSync(started, { force: true });
  const words = ["--notebooks", desk.folder, "--out", out, "endless"];
  const child = spawn(process.execPath, [join(root, "dist/notebook/command.js"), ...words], {
    stdio: "ignore",
  });
  const ended = new Promise<{ code: number | null; by: string | null }>((resolve) => {
    child.on("exit", (code, by) => resolve({ code, by }));
  });
  while (!existsSync(started) && child.exitCode === null)
    await new Promise((resolve) => setTimeout(resolve, 50));
  child.kill(signal);
  return ended;
}

describe("a run that is cut short", () => {
  it.each(["SIGINT", "SIGTERM", "SIGKILL"] as const)(
    "by %s leaves the older page as it was, and nothing beside it",
    async (signal) => {
      const out = join(desk.folder, signal);
      mkdirSync(out);
      writeFileSync(join(out, "endless.html"), "older page");
      const { code } = await stopped(out, signal);
      expect(code).not.toBe(0);
      expect(readdirSync(out)).toEqual(["endless.html"]);
      expect(readFileSync(join(out, "endless.html"), "utf8")).toBe("older page");
    },
    slow,
  );
});

describe("two runs at once", () => {
  it(
    "both finish, and leave one whole page",
    async () => {
      const ends = await Promise.all([desk.run("quick"), desk.run("quick")]);
      for (const { code, stdout } of ends) {
        expect(code).toBe(0);
        expect(stdout).toMatch(/^done\n\nPage: /);
      }
      expect(readdirSync(desk.out)).toEqual(["quick.html"]);
      expect(readFileSync(join(desk.out, "quick.html"), "utf8")).toMatch(/<\/html>\s*$/);
    },
    slow,
  );
});

describe("a page that can't be written", () => {
  it(
    "is said in one line, after the work, and ends with 1: a file where the folder should be",
    async () => {
      const out = join(desk.folder, "a-file");
      writeFileSync(out, "mine");
      const { code, stderr } = await desk.run("quick", "--out", out);
      expect(code).toBe(1);
      expect(stderr).toMatch(
        /^cannot write .*quick\.html: a file stands where the folder should be\n$/,
      );
      expect(readFileSync(out, "utf8")).toBe("mine");
    },
    slow,
  );

  // The superuser may write to any folder.
  it.skipIf(isRoot)(
    "is said in one line: a folder that is read-only",
    async () => {
      const out = join(desk.folder, "read-only");
      mkdirSync(out);
      chmodSync(out, 0o500);
      const { code, stderr } = await desk.run("quick", "--out", out);
      expect({ code, stderr }).toMatchObject({ code: 1, stderr: /no permission/ });
    },
    slow,
  );

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
      const whole = readFileSync(join(desk.folder, "quick.ipynb"), "utf8");
      writeFileSync(join(desk.folder, "cut.ipynb"), whole.slice(0, whole.length / 2));
      const { code, stderr } = await desk.run("cut");
      expect(code).toBe(1);
      expect(stderr).toMatch(/^notebook|cut\.ipynb: expected a notebook in JSON/);
      expect(stderr).not.toMatch(/\n\s+at /);
    },
    slow,
  );
});
