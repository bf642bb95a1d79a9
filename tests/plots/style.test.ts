import { describe, expect, it } from "vitest";
import {
  colours,
  darkColours,
  inDark,
  mapColours,
  paper,
  patterns,
} from "../../src/plots/style.js";

type Rgb = readonly [number, number, number];

/** Linear light of an sRGB colour: IEC 61966-2-1 (1999). */
function linear(colour: string): Rgb {
  const parts = colour.startsWith("#")
    ? [1, 3, 5].map((at) => Number.parseInt(colour.slice(at, at + 2), 16))
    : colour.match(/\d+/g)!.map(Number);
  return parts.map((part) => {
    const c = part / 255;
    return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
  }) as unknown as Rgb;
}

const times = (matrix: readonly Rgb[], [r, g, b]: Rgb): Rgb =>
  matrix.map((row) => row[0] * r + row[1] * g + row[2] * b) as unknown as Rgb;

/** CIELAB under D65: CIE 15 (2004). */
function lab(light: Rgb): Rgb {
  const xyz = times(
    [
      [0.4124564, 0.3575761, 0.1804375],
      [0.2126729, 0.7151522, 0.072175],
      [0.0193339, 0.119192, 0.9503041],
    ],
    light.map((c) => Math.min(1, Math.max(0, c))) as unknown as Rgb,
  );
  const [x, y, z] = xyz.map((v, i) => {
    const t = v / [0.95047, 1, 1.08883][i]!;
    return t > 216 / 24389 ? Math.cbrt(t) : ((24389 / 27) * t + 16) / 116;
  }) as unknown as Rgb;
  return [116 * y - 16, 500 * (x - y), 200 * (y - z)];
}

/**
 * How colours look without one kind of cone, in linear light: G. M. Machado, M. M. Oliveira and
 * L. A. F. Fernandes, IEEE Trans. Vis. Comput. Graph. 15, 1291 (2009), table of severity 1.0 (from memory;
 * the rows sum to 1, as they must for grey to stay grey).
 */
const eyes: Readonly<Record<string, readonly Rgb[]>> = {
  "all cones": [
    [1, 0, 0],
    [0, 1, 0],
    [0, 0, 1],
  ],
  "no long cones (protanopia)": [
    [0.152286, 1.052583, -0.204868],
    [0.114503, 0.786281, 0.099216],
    [-0.003882, -0.048116, 1.051998],
  ],
  "no middle cones (deuteranopia)": [
    [0.367322, 0.860646, -0.227968],
    [0.280085, 0.672501, 0.047413],
    [-0.01182, 0.04294, 0.968881],
  ],
  "no short cones (tritanopia)": [
    [1.255528, -0.076749, -0.178779],
    [-0.078411, 0.930809, 0.147602],
    [0.004733, 0.691367, 0.3039],
  ],
};

const lightness = (colour: string) => lab(linear(colour))[0];
/** Contrast of two colours: Web Content Accessibility Guidelines 2.1, "contrast ratio". */
function contrast(a: string, b: string): number {
  const luminance = (colour: string) => {
    const [r, g, b] = linear(colour);
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  };
  const [low, high] = [luminance(a), luminance(b)].sort((x, y) => x - y);
  return (high! + 0.05) / (low! + 0.05);
}

const palettes = { light: colours, dark: colours.map((colour) => darkColours[colour]!) };

describe("the simulation of colour blindness", () => {
  it.each(Object.entries(eyes))("leaves grey as it is: %s", (_, matrix) => {
    for (const row of matrix) expect(row[0] + row[1] + row[2]).toBeCloseTo(1, 4);
  });

  it("takes red and green together, which all cones tell apart", () => {
    const seen = (matrix: readonly Rgb[], colour: string) => lab(times(matrix, linear(colour)));
    const apart = (matrix: readonly Rgb[]) =>
      Math.hypot(...seen(matrix, "#c00000").map((v, i) => v - seen(matrix, "#5a7000")[i]!));
    expect(apart(eyes["all cones"]!)).toBeGreaterThan(
      3 * apart(eyes["no middle cones (deuteranopia)"]!),
    );
  });
});

describe.each(Object.entries(palettes))("the colours on a %s ground", (ground, palette) => {
  it.each(Object.entries(eyes))("stay apart for %s", (_, matrix) => {
    const seen = palette.map((colour) => lab(times(matrix, linear(colour))));
    seen.forEach((a, i) => {
      seen.slice(i + 1).forEach((b, j) => {
        const distance = Math.hypot(...a.map((v, k) => v - b[k]!));
        expect(distance, `${palette[i]} and ${palette[i + 1 + j]}`).toBeGreaterThan(18);
      });
    });
  });

  it("stand out from the ground", () => {
    const under = ground === "light" ? paper : darkColours[paper]!;
    // 3 is wanted of lines; orange, which has less on white, is drawn broad, dashed, or with an ink outline.
    for (const colour of palette) expect(contrast(colour, under), colour).toBeGreaterThan(2.2);
    expect(palette.filter((colour) => contrast(colour, under) < 3).length).toBeLessThan(2);
  });
});

describe("the colours in grey print", () => {
  it("differ in lightness: neighbours by 15, any two by 7", () => {
    const values = colours.map(lightness);
    values.forEach((a, i) => {
      if (i > 0) expect(Math.abs(a - values[i - 1]!), colours[i]).toBeGreaterThan(15);
      values.slice(i + 1).forEach((b, j) => {
        expect(Math.abs(a - b), `${colours[i]} and ${colours[i + 1 + j]}`).toBeGreaterThan(7);
      });
    });
  });

  it("are repeated by as many patterns", () => {
    expect(new Set(patterns.slice(0, colours.length)).size).toBe(colours.length);
  });

  it("rise steadily in lightness on a map", () => {
    const values = mapColours.map(([, colour]) => lightness(colour));
    expect([...values].sort((a, b) => a - b)).toEqual(values);
    expect(new Set(values).size).toBe(values.length);
  });
});

describe("a figure in the dark", () => {
  it("exchanges the colours that are named and leaves all else", () => {
    const figure = {
      line: { color: colours[0], width: 2 },
      name: "x",
      y: [1, null],
      ground: "#123456",
    };
    expect(inDark(figure)).toEqual({
      ...figure,
      line: { color: darkColours[colours[0]], width: 2 },
    });
  });
});
