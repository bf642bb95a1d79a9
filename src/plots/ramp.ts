/**
 * Colours of a map, computed: lightness L* rises in equal steps from low to high, so that hot is bright and
 * grey print keeps the order; a* and b* follow a parabola from dark blue over red to light straw. Lightness
 * and b*, which every common kind of colour blindness keeps, both rise all the way.
 * Source: CIELAB after CIE 15 (2004); sRGB after IEC 61966-2-1 (1999).
 * @module
 */

type Triple = readonly [number, number, number];

/** L*, a*, b* at the low end, between and at the high end; the middle one draws the parabola towards it. */
const ends = { low: [15, 20, -42], towards: [0, 66, 18], high: [94, -6, 36] } as const;
const steps = 24;

/** Linear light of a colour in CIELAB under D65; outside 0 to 1 where a screen has no such colour. */
function linearOfLab([lightness, a, b]: Triple): Triple {
  const y = (lightness + 16) / 116;
  const xyz = [y + a / 500, y, y - b / 200].map((t, i) => {
    const share = t ** 3 > 216 / 24389 ? t ** 3 : (116 * t - 16) / (24389 / 27);
    return share * [0.95047, 1, 1.08883][i]!;
  });
  const row = (x: number, y: number, z: number) => x * xyz[0]! + y * xyz[1]! + z * xyz[2]!;
  return [
    row(3.2404542, -1.5371385, -0.4985314),
    row(-0.969266, 1.8760108, 0.041556),
    row(0.0556434, -0.2040259, 1.0572252),
  ];
}

/** A part of linear light as sRGB has it, 0 to 255. */
function coded(light: number): number {
  const c = light <= 0.0031308 ? 12.92 * light : 1.055 * light ** (1 / 2.4) - 0.055;
  return Math.round(255 * c);
}

/** The colour at a share of the way from low to high. @throws RangeError where a screen has none */
function colourAt(t: number): string {
  const bent = (i: 1 | 2) =>
    (1 - t) ** 2 * ends.low[i] + 2 * t * (1 - t) * ends.towards[i] + t ** 2 * ends.high[i];
  const lightness = ends.low[0] + t * (ends.high[0] - ends.low[0]);
  const light = linearOfLab([lightness, bent(1), bent(2)]);
  if (light.some((c) => c < -1e-3 || c > 1 + 1e-3)) throw new RangeError(`no such colour: ${t}`);
  return `rgb(${light.map((c) => coded(Math.min(1, Math.max(0, c)))).join(",")})`;
}

/** Shares from low to high, and their colours; between two of them a figure takes their mean. */
export const mapColours: readonly (readonly [at: number, colour: string])[] = Array.from(
  { length: steps + 1 },
  (_, k) => [Number((k / steps).toFixed(6)), colourAt(k / steps)] as const,
);
