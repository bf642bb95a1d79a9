/**
 * A fit beside what was measured: readings with error bars and the fitted curve at each stage
 * temperature; and, to stand below it, how far off each reading is.
 * @module
 */
import { type DrawnFit, type FitPoint, groupOf, stageGroups } from "../design/fit.js";
import { formatNumber, formatQuantity } from "../units/format.js";
import type { Figure } from "./figure.js";
import { axis, colours, dashes, layout, limitLine, note, nth, rounded, softInk } from "./style.js";

/** What a fit's figures show. */
export interface FitOptions {
  readonly title?: string;
  /** Only this thermometer; the one with the largest rise when absent. */
  readonly thermometer?: string;
}

const symbols = ["circle", "square", "diamond", "triangle-up", "triangle-down", "cross", "x"];

/** Readings with error bars and the fit, one colour a stage temperature. */
export function fitFigure(fit: DrawnFit, options: FitOptions = {}): Figure {
  const { thermometer, points, groups, unit, factor, range } = chosen(fit, options);
  const curves = fit.curves().filter((curve) => curve.thermometer === thermometer);
  const data = groups.flatMap(({ stage, name, of, marker, line }) => {
    const curve = curves.find(
      (each) =>
        groupOf(
          groups.map((group) => group.stage),
          each.stage,
        ) === stage,
    )!;
    return [
      {
        type: "scatter",
        mode: "lines",
        name,
        showlegend: false,
        x: rounded(curve.powers.map((power) => factor * power)),
        y: rounded(curve.temperatures.map((T) => 1e3 * T)),
        line,
        hoverinfo: "skip",
      },
      {
        type: "scatter",
        mode: "markers",
        name,
        x: rounded(of.map(({ power }) => factor * power)),
        y: rounded(of.map(({ measured }) => 1e3 * measured)),
        error_y: {
          type: "data",
          array: rounded(of.map(({ uncertainty }) => 1e3 * uncertainty)),
          color: marker.color,
          thickness: 1.5,
          visible: of.some(({ uncertainty }) => uncertainty > 0),
        },
        marker,
        hovertemplate: `%{x:.4~g} ${unit}<br>%{y:.2~f} mK<extra>${name}</extra>`,
      },
    ];
  });
  return {
    data,
    layout: layout(options.title ?? `${fit.name}: measured and fitted`, {
      xaxis: axis(`heater power (${unit})`, { range }),
      yaxis: axis(`${placeName(thermometer)} (mK)`),
    }),
    alt:
      `${points.length} readings of ${placeName(thermometer)} against heater power, and the fit, the ` +
      `stage at ${groups.map(({ stage }) => formatQuantity(stage, "K")).join(", ")}. ${quality(fit)}.`,
  };
}

/** How far off the fit each reading is, in standard uncertainties; to stand below `fitFigure`. */
export function residualsFigure(fit: DrawnFit, options: FitOptions = {}): Figure {
  const { thermometer, points, groups, unit, factor, range } = chosen(fit, options);
  const farthest = Math.max(...points.map(({ normalised }) => Math.abs(normalised)));
  const largest = Math.max(3, 1.15 * farthest);
  const measured = points.some(({ uncertainty }) => uncertainty > 0);
  const title = `residual (standard ${measured ? "uncertainties" : "deviations"})`;
  const within = [1, -1].map((at) => limitLine(at));
  return {
    data: groups.map(({ name, of, marker }) => ({
      type: "scatter",
      mode: "markers",
      name,
      x: rounded(of.map(({ power }) => factor * power)),
      y: rounded(of.map(({ normalised }) => normalised)),
      marker,
      hovertemplate: `%{x:.4~g} ${unit}<br>%{y:.2~f}<extra>${name}</extra>`,
    })),
    layout: layout(
      options.title ?? `${fit.name}: readings less fit`,
      {
        xaxis: axis(`heater power (${unit})`, { range }),
        yaxis: axis(title, { range: [-largest, largest] }),
      },
      {
        height: 380,
        shapes: within.map(({ shape }) => ({
          ...shape,
          line: { color: softInk, width: 1, dash: "dash" },
        })),
        annotations: [
          note("two thirds of the readings of a right fit lie between the lines", {
            x: 1,
            xref: "paper",
            y: -largest,
            xanchor: "right",
            yanchor: "bottom",
          }),
        ],
      },
    ),
    alt:
      `How far off the fit the readings of ${placeName(thermometer)} are, against heater power: at most ` +
      `${formatNumber(farthest, 2)} ${measured ? "standard uncertainties" : "standard deviations"}. ` +
      `${quality(fit)}.`,
  };
}

/** The readings to show, by stage temperature, with the look of each. */
function chosen(fit: DrawnFit, options: FitOptions) {
  const thermometer = options.thermometer ?? warmest(fit.points);
  const points = fit.points.filter((point) => point.thermometer === thermometer);
  const stages = stageGroups(points.map(({ stage }) => stage));
  const most = Math.max(...points.map(({ power }) => power));
  const [unit, factor] = powerUnit(most);
  const groups = stages.map((stage, i) => ({
    stage,
    name: `stage at ${formatQuantity(stage, "K")}`,
    of: points.filter((point) => groupOf(stages, point.stage) === stage),
    marker: { color: nth(colours, i), symbol: nth(symbols, i), size: 8 },
    line: { color: nth(colours, i), dash: nth(dashes, i), width: 2 },
  }));
  const range = [-0.03 * factor * most, 1.04 * factor * most];
  return { thermometer, points, groups, unit, factor, range };
}

function placeName(thermometer: string): string {
  return thermometer === "chip" ? "hottest place of the chip" : thermometer;
}

function quality({ chiSquared, degreesOfFreedom, probability }: DrawnFit): string {
  return probability === undefined
    ? `${degreesOfFreedom} degrees of freedom`
    : `χ² ${formatNumber(chiSquared)} for ${degreesOfFreedom} degrees of freedom, probability ` +
        `${probability < 0.001 ? "below 0.001" : formatNumber(probability, 2)}`;
}

function warmest(points: readonly FitPoint[]): string {
  const rise = ({ measured, stage }: FitPoint) => measured - stage;
  return points.reduce((most, point) => (rise(point) > rise(most) ? point : most)).thermometer;
}

function powerUnit(most: number): readonly [unit: string, factor: number] {
  if (most < 1e-9) return ["pW", 1e12];
  if (most < 1e-6) return ["nW", 1e9];
  return most < 1e-3 ? ["µW", 1e6] : ["mW", 1e3];
}
