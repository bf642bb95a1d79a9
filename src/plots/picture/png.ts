/**
 * A small picture as PNG, without compression: for maps of some ten thousand points.
 * Source: Portable Network Graphics (PNG) Specification, W3C (2003), sections 5 and 11; the checksums
 * are those of RFC 1950 (Adler-32) and of the PNG specification's annex D (CRC-32).
 * @module
 */

/** A colour of a palette, each part from 0 to 255. */
export type Colour = readonly number[];

/**
 * A picture in colours of a palette as a `data:` address; an index beyond the palette is clear.
 * @param rows - indices, the top row first
 * @param palette - colours by index, at most 255
 */
export function pngAddress(rows: readonly ArrayLike<number>[], palette: readonly Colour[]): string {
  const size = [...bytesOf(rows[0]?.length ?? 0), ...bytesOf(rows.length)];
  const bytes = [
    ...[0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a],
    ...chunk("IHDR", [...size, 8, 3, 0, 0, 0]),
    ...chunk("PLTE", [...palette, [0, 0, 0]].flat()),
    ...chunk("tRNS", [...palette.map(() => 255), 0]),
    ...chunk("IDAT", stored(rows.flatMap((row) => [0, ...Array.from(row)]))),
    ...chunk("IEND", []),
  ];
  return `data:image/png;base64,${btoa(bytes.map((byte) => String.fromCharCode(byte)).join(""))}`;
}

/** Blocks of at most 65535 bytes as they are, in the wrapping of RFC 1950 and 1951. */
function stored(raw: readonly number[]): number[] {
  const pieces = [[0x78, 0x01]];
  for (let at = 0; at === 0 || at < raw.length; at += 0xffff) {
    const block = raw.slice(at, at + 0xffff);
    const { length } = block;
    const last = at + length >= raw.length ? 1 : 0;
    pieces.push([last, length & 255, length >> 8, ~length & 255, (~length >> 8) & 255], block);
  }
  let [a, b] = [1, 0];
  for (const byte of raw) {
    a = (a + byte) % 65521;
    b = (b + a) % 65521;
  }
  return [...pieces.flat(), ...bytesOf(b * 65536 + a)];
}

function chunk(name: string, data: readonly number[]): number[] {
  const body = [...Array.from(name, (letter) => letter.charCodeAt(0)), ...data];
  return [...bytesOf(data.length), ...body, ...bytesOf(checksum(body))];
}

/** CRC-32. */
function checksum(bytes: readonly number[]): number {
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
