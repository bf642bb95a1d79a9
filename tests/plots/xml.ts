/** Whether a text is well-formed enough for XML: tags nest, attributes are quoted, text is escaped. */
export function wellFormed(xml: string): boolean {
  const open: string[] = [];
  const tag = /<(\/?)([A-Za-z]+)((?:\s[\w:-]+="[^"<]*")*)\s*(\/?)>/y;
  let at = 0;
  while (at < xml.length) {
    const next = xml.indexOf("<", at);
    const text = xml.slice(at, next === -1 ? xml.length : next);
    if (/&(?!(amp|lt|gt|quot|#39);)/.test(text)) return false;
    if (next === -1) return open.length === 0;
    tag.lastIndex = next;
    const found = tag.exec(xml);
    if (!found) return false;
    const [, closes, name, , alone] = found;
    if (closes) {
      if (open.pop() !== name) return false;
    } else if (!alone) open.push(name!);
    at = tag.lastIndex;
  }
  return open.length === 0;
}
