import { inflateSync } from "node:zlib";
import { describe, expect, it } from "vitest";
import { pngAddress } from "../../../src/plots/picture/png.js";

describe("PNG", () => {
  it("holds the pixels that went in, by zlib's own reading", () => {
    const rows = [Uint8Array.of(0, 1, 2), Uint8Array.of(2, 1, 0)];
    const bytes = Buffer.from(
      pngAddress(rows, [
        [0, 0, 0],
        [9, 9, 9],
        [255, 0, 0],
      ]).split(",")[1]!,
      "base64",
    );
    expect(bytes.subarray(1, 4).toString()).toBe("PNG");
    const at = bytes.indexOf("IDAT");
    const data = bytes.subarray(at + 4, at + 4 + bytes.readUInt32BE(at - 4));
    expect([...inflateSync(data)]).toEqual([0, 0, 1, 2, 0, 2, 1, 0]);
    // What lies beyond the palette is clear: one more colour, with no opacity.
    const opacity = bytes.indexOf("tRNS");
    expect([...bytes.subarray(opacity + 4, opacity + 8)]).toEqual([255, 255, 255, 0]);
    // CRC-32 of an empty IEND chunk, as in every PNG file: PNG specification, W3C (2003), section 11.2.5.
    expect(bytes.subarray(-4).toString("hex")).toBe("ae426082");
  });

  it("stores more than one block holds", () => {
    const rows = Array.from({ length: 300 }, (_, j) =>
      Uint8Array.from({ length: 300 }, (_, i) => (i + j) % 3),
    );
    const bytes = Buffer.from(
      pngAddress(rows, [
        [0, 0, 0],
        [1, 1, 1],
        [2, 2, 2],
      ]).split(",")[1]!,
      "base64",
    );
    expect([bytes.readUInt32BE(16), bytes.readUInt32BE(20)]).toEqual([300, 300]);
    const at = bytes.indexOf("IDAT");
    const data = inflateSync(bytes.subarray(at + 4, at + 4 + bytes.readUInt32BE(at - 4)));
    expect(data.subarray(299 * 301 + 1)).toEqual(Buffer.from(rows[299]!));
  });
});
