import { describe, expect, it } from "vitest";
import { darkColours, inDark } from "../../src/plots/dark.js";
import { elementKind, elementLooks, kindsAlong } from "../../src/plots/elements.js";
import { mapColours } from "../../src/plots/ramp.js";
import { colours, limitColour, paper, patterns, softInk } from "../../src/plots/style.js";

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
    // Web Content Accessibility Guidelines 2.1, criteria 1.4.11 (3 of lines) and 1.4.3 (4.5 of text).
    for (const colour of palette) expect(contrast(colour, under), colour).toBeGreaterThan(3);
    for (const text of [limitColour, softInk]) {
      const colour = ground === "light" ? text : darkColours[text]!;
      expect(contrast(colour, under), text).toBeGreaterThan(4.5);
    }
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
});

describe("the colours of a map", () => {
  it("rise in equal steps of lightness, hot the brightest", () => {
    const values = mapColours.map(([, colour]) => lightness(colour));
    const step = (values.at(-1)! - values[0]!) / (values.length - 1);
    values.forEach((value, i) => {
      // Half a level of a screen's 256 is 0.2 in lightness.
      expect(Math.abs(value - (values[0]! + i * step)), mapColours[i]![1]).toBeLessThan(0.4);
    });
    expect(step * (values.length - 1)).toBeGreaterThan(75);
  });

  it.each(Object.entries(eyes))("keep their order and their distance for %s", (_, matrix) => {
    const seen = mapColours.map(([, colour]) => lab(times(matrix, linear(colour))));
    const steps = seen.slice(1).map((b, i) => {
      const a = seen[i]!;
      expect(b[0], `lightness after ${mapColours[i]![1]}`).toBeGreaterThan(a[0]);
      return Math.hypot(...b.map((v, k) => v - a[k]!));
    });
    // No step is much smaller than another, so that equal differences look about equal.
    expect(Math.max(...steps) / Math.min(...steps)).toBeLessThan(5);
    const far = Math.hypot(...seen.at(-1)!.map((v, k) => v - seen[0]![k]!));
    expect(far).toBeGreaterThan(75);
  });

  it("are none that a figure uses for something else", () => {
    const taken = [...colours, limitColour, softInk].map((colour) => linear(colour).join());
    for (const [, colour] of mapColours) expect(taken).not.toContain(linear(colour).join());
  });
});

describe("the looks of elements", () => {
  const looks = Object.entries(elementLooks);

  it("differ in colour or in pattern, each with a tint for the dark", () => {
    expect(new Set(looks.map(([, { colour, pattern }]) => colour + pattern)).size).toBe(
      looks.length,
    );
    expect(new Set(looks.map(([, { tint }]) => tint)).size).toBe(looks.length);
    for (const [kind, { tint, pattern }] of looks) {
      expect(darkColours[tint], kind).toMatch(/^#[0-9a-f]{6}$/);
      expect(patterns, kind).toContain(pattern);
    }
  });

  it("are found by the names of a budget, also where clamps and bars have names of their own", () => {
    const named = {
      die: "spreading in the die",
      boundary: "pad boundary",
      coupling: "electron-phonon coupling",
      film: "pad film",
      bonds: "bonds south",
      ledge: "ledge",
      glue: "glue",
      back: "pressed back",
      box: "box wall",
      joint: "joint to the stage",
      clamps: "beryllium-copper springs",
    };
    for (const [kind, name] of Object.entries(named)) expect(elementKind(name)).toBe(kind);
    const path = ["spreading in the die", "springs", "box wall", "finger", "joint to the stage"];
    expect(kindsAlong(path.map((name) => ({ name })))).toEqual([
      "die",
      "clamps",
      "box",
      "path",
      "joint",
    ]);
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
