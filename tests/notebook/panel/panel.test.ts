import { createHash } from "node:crypto";
import { readFileSync } from "node:fs";
import { createContext, runInContext } from "node:vm";
import { gunzipSync, gzipSync } from "node:zlib";
import { describe, expect, it } from "vitest";
import { type Mount, panel, standardCatalogue } from "../../../src/index.js";
import { page } from "../../../src/notebook/page/page.js";
import type { PanelData } from "../../../src/notebook/panel/panel.js";
import { panelType } from "../../../src/notebook/panel/script.js";
import { root } from "../command-line.js";

const name = 'an "odd" </script><script>alert(1)</script> <b>\u2028</b>';
const mount: Mount = {
  name,
  die: {
    material: "silicon",
    width: "20 mm",
    length: "10 mm",
    thickness: "0.4 mm",
    model: "one node",
  },
  glue: { glue: "varnish", area: "4 mm^2", thickness: "20 um" },
  box: {
    material: "copper",
    crossSection: "100 mm^2",
    pathLength: "30 mm",
    residualResistivityRatio: 50,
  },
  joint: { faces: "gold-plated copper on gold-plated copper", force: "1 kN", count: 4 },
  stage: "100 mK",
  loads: [{ kind: "given", name: "<i>load</i>", power: "5 nW" }],
};
const glueArea = { field: "glue.area", from: "1 mm^2", to: "9 mm^2" } as const;
const made = panel(mount, [
  { ...glueArea, label: "<u>area</u>" },
  { field: "loads.0.power", from: "1 nW", to: "9 nW" },
]);
const bundle = made.toBundle();
const onPage = (count: number) =>
  page(
    {
      name: "n",
      file: "n.ipynb",
      cells: Array.from({ length: count }, () => ({
        kind: "code" as const,
        source: "show(panel())",
        outputs: [{ output_type: "display_data" as const, data: made.toBundle() }],
      })),
    },
    { date: "2001-02-03", versions: [] },
  );

describe("a panel", () => {
  it("takes a value of the field's own kind, by its type", () => {
    expect(() =>
      panel(mount, [
        glueArea,
        // @ts-expect-error a temperature is no area
        { field: "loads.0.power", from: "1 mK", to: "9 nW" },
      ]),
    ).toThrow(/^panel loads\.0\.power/);
    expect(() =>
      panel(mount, [
        // @ts-expect-error no such field
        { field: "glue.aera", from: 1, to: 2 },
      ]),
    ).toThrow(/glue\.aera/);
  });

  it("stands in its first state where no script runs, all names as text", () => {
    const html = String(bundle["text/html"]).replace(/<(script|style)[\s\S]*?<\/\1>/g, "");
    expect(html).toContain("an &quot;odd&quot; &lt;/script&gt;&lt;script&gt;alert(1)");
    expect(html).toContain("&lt;u&gt;area&lt;/u&gt;</th><td>4 mm²</td>");
    expect(html).toMatch(
      /<th scope="row">Chip<\/th><td><data class="panel-chip" value="0\.1\d+">1\d\d\.\d mK/,
    );
    expect(html).not.toMatch(/<(b|i|u|script)>/);
    expect(html).toContain('<form class="panel-controls" hidden>');
  });

  it("draws its first state for a page and for a telephone", () => {
    const { html } = bundle[panelType] as { html: string };
    for (const part of ["drops", "curve", "drawing"]) {
      expect(html).toMatch(
        new RegExp(
          `class="panel-${part}"><div class="panel-wide"><svg[\\s\\S]*?<div class="panel-narrow"><svg`,
        ),
      );
    }
  });

  it("says its first state in words", () => {
    expect(bundle["text/plain"]).toMatch(
      /with <u>area<\/u> 4 mm², .* 5 nW\. The chip reaches 1\d\d\.\d mK/,
    );
  });

  it("carries its mount as JSON that cannot end its script", () => {
    const { html } = bundle[panelType] as { html: string };
    const [text] = /(?<=class="panel-data">)[\s\S]*?(?=<\/script>)/.exec(html)!;
    expect(text).not.toMatch(/[<\u2028]/);
    const data = JSON.parse(text) as PanelData;
    expect(data.mount).toEqual(mount);
    expect(data.controls[0]).toMatchObject({ unit: "mm²", written: "mm^2", initial: 4 });
    expect(data.curve!.temperatures).toHaveLength(2 * data.curve!.values.length);
  });

  it("carries what a catalogue of one's own has beside the standard one", () => {
    const factors = new Map([[standardCatalogue().rows()[0]!.key, 2]]);
    const own = standardCatalogue().withFactors(factors);
    const { html } = panel(mount, [glueArea], { catalogue: own }).toBundle()[panelType] as {
      html: string;
    };
    const [text] = /(?<=class="panel-data">)[\s\S]*?(?=<\/script>)/.exec(html)!;
    const { catalogue } = JSON.parse(text) as PanelData;
    expect(catalogue).toEqual({ added: [], factors: [...factors] });
  });

  it("has an id of its own each time it is shown", () => {
    const id = () => /id="(coldpath-panel-[^"]*)"/.exec(String(made.toBundle()["text/html"]))![1];
    expect(id()).not.toBe(id());
  });

  it("brings the script to Jupyter with the first panel alone", () => {
    const length = (shown: typeof bundle) => String(shown["text/html"]).length;
    expect(length(bundle) - length(made.toBundle())).toBeGreaterThan(150_000);
    expect(length(made.toBundle())).toBeLessThan(150_000);
  });
});

describe("the script of panels", () => {
  const text = readFileSync(`${root}dist/notebook/panel/bundle.js`, "utf8");

  it("is under 250 kB compressed and asks nothing of Node or of code made at run time", () => {
    expect(gzipSync(text, { level: 9 }).length).toBeLessThan(290_000);
    const asked = /["'`]node:\w+|\brequire\(["'`][^)]*\)|\bnew Function\(|[^\w.]eval\(/.exec(text);
    expect(asked?.[0]).toBeUndefined();
  });

  it("runs without Node's globals", () => {
    const browser = createContext({ TextDecoder, TextEncoder, performance });
    runInContext(text, browser);
    expect(runInContext("typeof coldpathPanel.start", browser)).toBe("function");
  });

  it("stands on a page once for all panels, and the page's policy lets it run", () => {
    const whole = onPage(3);
    expect(onPage(1).length).toBeGreaterThan(whole.length / 2);
    const policy = /Content-Security-Policy" content="([^"]*)"/.exec(whole)![1]!;
    const digest = (source: string) => createHash("sha256").update(source).digest("base64");
    const scripts = [...whole.matchAll(/<script>([\s\S]*?)<\/script>/g)].map((found) => found[1]!);
    expect(scripts).toHaveLength(1);
    expect(policy).toContain(digest(scripts[0]!));
    const compressed = /\("([\w+/=]{1000,})",/.exec(scripts[0]!)![1]!;
    const source = gunzipSync(Buffer.from(compressed, "base64")).toString();
    expect(policy).toContain(digest(source));
    expect(source).toBe(text);
    expect(policy).not.toMatch(/script-src[^;]*unsafe/);
  });

  it("is not on a page without a panel", () => {
    expect(onPage(0)).not.toContain("coldpathPanel");
  });
});
