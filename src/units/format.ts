/**
 * Numbers as people read them: `104.2 mK`, `7.02 nW`, never `0.10416623`.
 * @module
 */

const prefixes: readonly (readonly [number, string])[] = [
  [1e12, "T"],
  [1e9, "G"],
  [1e6, "M"],
  [1e3, "k"],
  [1, ""],
  [1e-3, "m"],
  [1e-6, "µ"],
  [1e-9, "n"],
  [1e-12, "p"],
  [1e-15, "f"],
  [1e-18, "a"],
];

/**
 * A value with an SI prefix and a sensible number of digits.
 * @param value - in the unit without prefix
 * @param unit - symbol of one unit, for example `K` or `W/K`
 * @param digits - significant digits, 3 by default
 * @example formatQuantity(4.87e-3, "K") // "4.87 mK"
 */
export function formatQuantity(value: number, unit: string, digits = 3): string {
  if (!Number.isFinite(value)) return `${value} ${unit}`.trim();
  if (value === 0) return `0 ${unit}`.trim();
  if (!takesPrefix(unit)) return `${formatNumber(value, digits)} ${unit}`.trim();
  const rounded = Math.abs(Number(value.toPrecision(digits)));
  const found = prefixes.find(([size]) => rounded >= size * (1 - 1e-12));
  if (!found) return `${formatNumber(value, digits)} ${unit}`;
  const [size, prefix] = found;
  return `${formatNumber(value / size, digits)} ${prefix}${unit}`;
}

/** A temperature [K] to a tenth of a millikelvin, since millikelvin decide. */
export function formatTemperature(temperature: number): string {
  return formatQuantity(temperature, "K", 4);
}

/** A temperature difference [K]; with fewer digits where it is too small to matter. */
export function formatRise(difference: number): string {
  return formatQuantity(difference, "K", Math.abs(difference) < 1e-4 ? 2 : 3);
}

/**
 * A value that rests on a law outside of its range: no more than two digits of it.
 * @example formatAbout(5.213, "K") // "≈ 5.2 K"
 */
export function formatAbout(value: number, unit: string): string {
  return `≈ ${formatQuantity(Number(value.toPrecision(2)), unit, 2)}`;
}

/** A temperature [K] whose rise above one that is known is such a value [K]: as far as that has digits. */
export function formatAboutTemperature(temperature: number, rise: number): string {
  const last = Math.floor(Math.log10(Math.max(Math.abs(rise), 1e-3 * temperature))) - 1;
  const rounded = Number(temperature.toFixed(Math.min(12, Math.max(0, -last))));
  const digits = Math.floor(Math.log10(rounded)) - last + 1;
  return `≈ ${formatQuantity(rounded, "K", Math.max(2, Math.min(4, digits)))}`;
}

/** A pure number with so many significant digits, in powers of ten where zeros would be many. */
export function formatNumber(value: number, digits = 3): string {
  if (!Number.isFinite(value)) return String(value);
  if (value === 0) return "0";
  const exponent = Math.floor(Math.log10(Math.abs(Number(value.toPrecision(digits)))));
  if (exponent >= -3 && exponent < Math.max(digits, 5)) {
    return value.toFixed(Math.max(0, digits - 1 - exponent));
  }
  return Number(value)
    .toExponential(digits - 1)
    .replace(/\.?0+e/, "e")
    .replace("e+", "e");
}

/**
 * A value with its standard uncertainty, both to the same last digit: two digits of the uncertainty.
 * @example formatUncertain(7.29e-9, 8.8e-11, "W") // "7.290 ± 0.088 nW"
 * @example formatUncertain(3.007e9, 7.9e7, "") // "(3.007 ± 0.079)e9"
 */
export function formatUncertain(value: number, uncertainty: number, unit: string): string {
  const most = Math.max(Math.abs(value), uncertainty);
  if (!(uncertainty > 0) || !Number.isFinite(most)) return formatQuantity(value, unit);
  const prefixed = takesPrefix(unit) ? prefixes.find(([size]) => most >= size) : undefined;
  const exponent = Math.floor(Math.log10(most));
  const plain = prefixed !== undefined || (exponent >= -3 && exponent < 5);
  const size = prefixed ? prefixed[0] : plain ? 1 : 10 ** exponent;
  const last = Math.floor(Math.log10(Number((uncertainty / size).toPrecision(2)))) - 1;
  const [a, b] = [value, uncertainty].map((x) =>
    (x / size).toFixed(Math.min(12, Math.max(0, -last))),
  );
  const numbers = plain ? `${a} ± ${b}` : `(${a} ± ${b})e${exponent}`;
  return `${numbers} ${prefixed ? prefixed[1] : ""}${printedUnit(unit)}`.trim();
}

/** Powers, reciprocals and products read badly with a prefix: 2.4e9 W/(m^3 K^5), not 2.4 G... */
function takesPrefix(unit: string): boolean {
  return /^([A-Za-z]+|W\/K|ohm m)$/.test(unit);
}

/** A given value as it was written: five digits at most, and no zeros to fill them. */
export function formatGiven(value: number, unit: string): string {
  const [number, ...rest] = formatQuantity(value, unit, 5).split(" ");
  const [digits, exponent] = number!.split("e");
  const short = digits!.includes(".") ? digits!.replace(/\.?0+$/, "") : digits!;
  return [exponent === undefined ? short : `${short}e${exponent}`, ...rest].join(" ");
}

/** A unit as it is printed: `W/(m³ K⁵)`, `Ω m`. */
export function printedUnit(unit: string): string {
  return unit
    .replace(/\^(-?\d+)(?![.\d])/g, (_, power: string) => raised(power))
    .replace(/ohm/g, "Ω");
}

/** A whole number as an exponent. */
export function raised(power: number | string): string {
  return String(power).replace(/[-\d]/g, (c) => (c === "-" ? "⁻" : "⁰¹²³⁴⁵⁶⁷⁸⁹"[Number(c)]!));
}

/**
 * Two ends of an interval, the unit once where both have the same.
 * @example formatInterval(2.88e9, 3.14e9, "W/(m^3 K^5)") // "2.88e9 to 3.14e9 W/(m³ K⁵)"
 */
export function formatInterval(low: number, high: number, unit: string): string {
  const [from, to] = [low, high].map((end) => printedUnit(formatQuantity(end, unit)));
  const [number, ...ofLow] = from!.split(" ");
  const [, ...ofHigh] = to!.split(" ");
  return `${ofLow.join(" ") === ofHigh.join(" ") ? number : from} to ${to}`;
}

/** A share as a percentage: `43 %`, `0.4 %`, `<0.1 %`. */
export function formatShare(share: number): string {
  const percent = 100 * share;
  if (percent !== 0 && Math.abs(percent) < 0.1) return percent > 0 ? "<0.1 %" : ">-0.1 %";
  return `${percent.toFixed(Math.abs(percent) < 9.95 ? 1 : 0)} %`;
}

/**
 * Text as a terminal may have it: characters that move the cursor, colour, or turn the direction of writing
 * stand as signs; tabs and line feeds stay.
 */
export function printable(text: string): string {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: these are what is looked for
  return text.replace(/[\x00-\x08\x0b-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069]/g, (sign) =>
    sign < " " ? String.fromCharCode(0x2400 + sign.charCodeAt(0)) : "\ufffd",
  );
}
