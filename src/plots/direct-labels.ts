/**
 * Names of curves beside the curves themselves, where they fit, in place of a legend.
 * @module
 */
import { ink, note, veil } from "./style.js";

/** An axis: its ends, as they are, and whether it is logarithmic. */
export interface LabelledAxis {
  readonly low: number;
  readonly high: number;
  readonly isLogarithmic?: boolean;
}

/** A curve to be named. */
export interface LabelledCurve {
  readonly name: string;
  /** What stands beside it, in place of its name. */
  readonly label?: string;
  readonly x: readonly number[];
  readonly y: readonly (number | null)[];
}

/** Share of a narrow plot that a character takes across, and a line of text up. */
const character = { wide: 0.024, high: 0.062 };
/** Most by which a curve may rise or fall beside its name, of the plot's height. */
const steepest = 0.14;
/** Space between a curve and its name, of the plot's height. */
const gap = 0.012;

interface Box {
  readonly left: number;
  readonly right: number;
  readonly bottom: number;
  readonly top: number;
}

/**
 * A note for each curve, above or below it and clear of all others; undefined where one of them has no such
 * place in a narrow plot, so that a legend has to name them.
 * @param lines - values of y at which a line crosses the plot, which names keep off
 */
export function directLabels(
  curves: readonly LabelledCurve[],
  xAxis: LabelledAxis,
  yAxis: LabelledAxis,
  lines: readonly number[] = [],
): readonly object[] | undefined {
  const shareOn = ({ low, high, isLogarithmic }: LabelledAxis) => {
    const at = (value: number) => (isLogarithmic ? Math.log(value) : value);
    return (value: number) => (at(value) - at(low)) / (at(high) - at(low));
  };
  const [sx, sy] = [shareOn(xAxis), shareOn(yAxis)];
  const shares = curves.map(({ x, y }) =>
    x.flatMap((at, i) => {
      const value = y[i];
      const place = [sx(at), value == null ? Number.NaN : sy(value)] as const;
      return place.every(Number.isFinite) ? [place] : [];
    }),
  );
  const levels = lines.map(sy);
  const placed: Box[] = [];
  const labels: object[] = [];
  for (const [k, { name, label = name }] of curves.entries()) {
    const wide = Math.max(3, label.length) * character.wide;
    const own = shares[k]!;
    const places = [...own]
      .reverse()
      .filter(([at]) => at - wide >= 0.01 && at <= 0.99)
      .flatMap(([right]) => {
        const left = right - wide;
        const over = reach(own, left, right);
        if (!over || over[1] - over[0] > steepest) return [];
        const [low, high] = over;
        return [
          { left, right, bottom: high + gap, top: high + gap + character.high, rise: high - low },
          { left, right, bottom: low - gap - character.high, top: low - gap, rise: high - low },
        ];
      });
    // Where a curve is level its name is clearly its own.
    const level = places.filter(({ rise }) => rise < 0.3 * steepest);
    const found = [...level, ...places].find(
      (box) =>
        box.bottom >= 0.005 &&
        box.top <= 0.995 &&
        !levels.some((level) => level > box.bottom && level < box.top) &&
        !placed.some(
          ({ left, right, bottom, top }) =>
            box.left < right && left < box.right && box.bottom < top && bottom < box.top,
        ) &&
        !shares.some((other, m) => {
          const met = m === k ? undefined : reach(other, box.left, box.right);
          return met !== undefined && met[0] < box.top && met[1] > box.bottom;
        }),
    );
    if (!found) return undefined;
    placed.push(found);
    const value = ({ low, high, isLogarithmic }: LabelledAxis, share: number) =>
      isLogarithmic ? Math.log10(low) + share * Math.log10(high / low) : low + share * (high - low);
    labels.push(
      note(label, {
        x: value(xAxis, found.right),
        y: value(yAxis, (found.bottom + found.top) / 2),
        xanchor: "right",
        bgcolor: veil,
        font: { size: 12, color: ink },
      }),
    );
  }
  return labels;
}

/** Lowest and highest of a curve between two places along x; undefined where it is not there. */
function reach(
  curve: readonly (readonly [number, number])[],
  left: number,
  right: number,
): readonly [number, number] | undefined {
  const at = (x: number) => {
    const next = curve.findIndex(([own]) => own >= x);
    if (next <= 0) return next === 0 && curve[0]![0] === x ? [curve[0]![1]] : [];
    const [[x1, y1], [x2, y2]] = [curve[next - 1]!, curve[next]!];
    return [y1 + ((x - x1) / (x2 - x1 || 1)) * (y2 - y1)];
  };
  const inside = curve.filter(([x]) => x >= left && x <= right).map(([, y]) => y);
  const ys = [...at(left), ...inside, ...at(right)];
  return ys.length === 0 ? undefined : [Math.min(...ys), Math.max(...ys)];
}
