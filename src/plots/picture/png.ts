/**
 * A small picture as PNG, without compression: for maps of some ten thousand points.
 * Source: Portable Network Graphics (PNG) Specification, W3C (2003), sections 5 and 11; the checksums
 * are those of RFC 1950 (Adler-32) and of the PNG specification's annex D (CRC-32).
 * @module
 */

/** Colours by index; at most 255. */
export type Palette = readonly (readonly [red: number, green: number, blue: number])[];

/**
 * A picture in colours of a palette as a `data:` address; an index beyond the palette is clear.
 * @param rows - indices, the top row first
 */
export function pngAddress(rows: readonly Uint8Array[], palette: Palette): string {
  const width = rows[0]?.length ?? 0;
  const raw = new Uint8Array(rows.length * (width + 1));
  rows.forEach((row, j) => {
    raw.set(row, j * (width + 1) + 1);
  });
  const header = [...bytesOf(width), ...bytesOf(rows.length), 8, 3, 0, 0, 0];
  const bytes = [
    Uint8Array.of(0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a),
    chunk("IHDR", Uint8Array.from(header)),
    chunk("PLTE", Uint8Array.from([...palette, [0, 0, 0]].flat())),
    chunk("tRNS", Uint8Array.from([...palette.map(() => 255), 0])),
    chunk("IDAT", stored(raw)),
    chunk("IEND", new Uint8Array()),
  ];
  const letters = Array.from(joined(bytes), (byte) => String.fromCharCode(byte));
  return `data:image/png;base64,${btoa(letters.join(""))}`;
}

/** Blocks of at most 65535 bytes as they are, in the wrapping of RFC 1950 and 1951. */
function stored(raw: Uint8Array): Uint8Array {
  const pieces: Uint8Array[] = [Uint8Array.of(0x78, 0x01)];
  for (let at = 0; at === 0 || at < raw.length; at += 0xffff) {
    const block = raw.subarray(at, at + 0xffff);
    const length = block.length;
    const last = at + length >= raw.length ? 1 : 0;
    pieces.push(
      Uint8Array.of(last, length & 255, length >> 8, ~length & 255, (~length >> 8) & 255),
      block,
    );
  }
  let [a, b] = [1, 0];
  for (const byte of raw) {
    a = (a + byte) % 65521;
    b = (b + a) % 65521;
  }
  pieces.push(Uint8Array.from(bytesOf(b * 65536 + a)));
  return joined(pieces);
}

function chunk(name: string, data: Uint8Array): Uint8Array {
  const body = joined([Uint8Array.from(name, (letter) => letter.charCodeAt(0)), data]);
  return joined([
    Uint8Array.from(bytesOf(data.length)),
    body,
    Uint8Array.from(bytesOf(checksum(body))),
  ]);
}

/** CRC-32. */
function checksum(bytes: Uint8Array): number {
  let crc = 0xffffffff;
  for (const byte of bytes) {
    crc ^= byte;
    for (let k = 0; k < 8; k++) crc = crc & 1 ? (crc >>> 1) ^ 0xedb88320 : crc >>> 1;
  }
  return ~crc >>> 0;
}

/** Four bytes, the highest first. */
function bytesOf(value: number): number[] {
  return [value >>> 24, (value >>> 16) & 255, (value >>> 8) & 255, value & 255];
}

function joined(pieces: readonly Uint8Array[]): Uint8Array {
  const all = new Uint8Array(pieces.reduce((sum, { length }) => sum + length, 0));
  let at = 0;
  for (const piece of pieces) {
    all.set(piece, at);
    at += piece.length;
  }
  return all;
}
