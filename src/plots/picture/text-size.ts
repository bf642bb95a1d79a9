/**
 * How much space a text takes, and where its lines break.
 * @module
 */

/** From one line to the next, of the type's size. */
export const lineHeight = 1.25;

/** About how wide a text is in a sans-serif type [px]; a few percent too wide rather than too narrow. */
export function textWidth(text: string, size: number): number {
  let sum = 0;
  for (const character of text) {
    if (/[ijlI.,:;'|!ft()[\]]/.test(character)) sum += 0.36;
    else if (/[mwMW@%—]/.test(character)) sum += 0.98;
    else if (/[A-Z]/.test(character)) sum += 0.72;
    else if (character === " ") sum += 0.32;
    else if (character > "\u2e7f") sum += 1.05;
    else if (/[\d+=<>×~]/.test(character)) sum += 0.66;
    else sum += 0.62;
  }
  return sum * size;
}

/**
 * A text in lines no wider than this [px]; broken at spaces but not between a number and its unit, and
 * inside a word that is longer.
 */
export function wrapped(text: string, width: number, size: number): string[] {
  const lines: string[] = [];
  let current = "";
  for (let word of text
    .replace(/(\d|RRR)\s+(?=\S)/g, "$1\u00a0")
    .split(/[ \t\r\n]+/)
    .filter(Boolean)) {
    const longer = current ? `${current} ${word}` : word;
    if (textWidth(longer, size) <= width) {
      current = longer;
      continue;
    }
    if (current) lines.push(current);
    while (textWidth(word, size) > width && word.length > 1) {
      let end = word.length - 1;
      while (end > 1 && textWidth(word.slice(0, end), size) > width) end--;
      // At a hyphen, where there is one.
      end = word.lastIndexOf("-", end - 1) + 1 || end;
      lines.push(word.slice(0, end));
      word = word.slice(end);
    }
    current = word;
  }
  if (current) lines.push(current);
  return lines;
}

/** Width of the widest of some texts [px]. */
export function widest(texts: readonly string[], size: number): number {
  return Math.max(0, ...texts.map((text) => textWidth(text, size)));
}
