import { gzipSync } from "node:zlib";
import { describe, expect, it, vi } from "vitest";
import { unpackScript, whenReadyScript } from "../../../src/notebook/page/unpack.js";

/** A browser's window in so far as the scripts use it; a script added to it runs. */
function page() {
  const added: string[] = [];
  const window: Record<string, unknown> = {
    Blob,
    DecompressionStream,
    Response,
    atob,
    setTimeout,
    calls: [],
  };
  const head = {
    append: ({ text }: { text: string }) => {
      added.push(text);
      run(text);
    },
  };
  window.document = { head, createElement: () => ({ text: "" }) };
  const run = (source: string) => new Function("globalThis", source)(window);
  return { window, added, run };
}

const compressed = gzipSync('globalThis.made = { text: "ü" };').toString("base64");
const called = (window: Record<string, unknown>) =>
  vi.waitFor(() => expect(window.calls).toHaveLength(1), 10_000);
/** Long enough for a script that should not be added. */
const aWhile = () => new Promise((resolve) => setTimeout(resolve, 100));

describe("a script that travels compressed", () => {
  it("is added once, and what waits for it is called with its values", async () => {
    const { window, added, run } = page();
    const wait = whenReadyScript(
      "made",
      (a: string, b: object) => {
        (globalThis as unknown as { calls: unknown[] }).calls.push([a, b]);
      },
      "</script>",
      { b: 1 },
    );
    expect(wait).not.toContain("</script>");
    run(unpackScript(compressed, "made"));
    run(wait);
    await called(window);
    expect(added).toEqual(['globalThis.made = { text: "ü" };']);
    expect(window.calls).toEqual([["</script>", { b: 1 }]]);
    run(unpackScript(compressed, "made"));
    await aWhile();
    expect(added).toHaveLength(1);
  });

  it("calls what is to follow its arrival, and is left alone where nothing unpacks", async () => {
    const { window, run } = page();
    const follow = () => {
      (globalThis as unknown as { calls: unknown[] }).calls.push("added");
    };
    run(unpackScript(compressed, "made", follow));
    await called(window);
    expect(window.calls).toEqual(["added"]);
    const old = page();
    old.window.DecompressionStream = undefined;
    old.run(unpackScript(compressed, "made"));
    await aWhile();
    expect(old.added).toEqual([]);
  });
});
