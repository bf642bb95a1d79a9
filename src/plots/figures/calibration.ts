/**
 * A fit beside what was measured: readings with error bars and the fitted curve at each stage
 * temperature; and how far off each reading is, against its own temperature.
 * @module
 */
import { type DrawnFit, type FitPoint, groupOf, stageGroups } from "../../design/fitting/fit.js";
import { formatNumber, formatQuantity, formatTemperature } from "../../units/format.js";
import type { Figure, FigureOptions } from "../figure.js";
import { lineAt, millikelvin, unitOfPower } from "../figure-parts.js";
import { axis, colours, dashes, layout, note, nth, rounded, softInk } from "../style.js";

/** What a fit's figures show. */
export interface FitOptions extends FigureOptions {
  /** Only this thermometer; the one with the largest rise when absent. */
  readonly thermometer?: string;
}

const symbols = "circle square diamond triangle-up triangle-down cross x".split(" ");

/** Readings with error bars and the fit, one colour a stage temperature. */
export function fitFigure(fit: DrawnFit, options: FitOptions = {}): Figure {
  const { thermometer, place, spokenPlace, points, groups } = chosen(fit, options);
  const most = Math.max(...points.map(({ power }) => power));
  const unit = unitOfPower(most);
  const range = [-0.03, 1.04].map((end) => (end * most) / unit.size);
  const curves = fit.curves().filter((curve) => curve.thermometer === thermometer);
  const data = groups.flatMap(({ stage, name, of, marker, line }) => {
    const stages = groups.map((group) => group.stage);
    const curve = curves.find((each) => groupOf(stages, each.stage) === stage)!;
    return [
      {
        type: "scatter",
        mode: "lines",
        name,
        showlegend: false,
        x: rounded(curve.powers.map((power) => power / unit.size)),
        y: millikelvin(curve.temperatures),
        line,
        hoverinfo: "skip",
      },
      {
        type: "scatter",
        mode: "markers",
        name,
        x: rounded(of.map(({ power }) => power / unit.size)),
        y: millikelvin(of.map(({ measured }) => measured)),
        error_y: {
          type: "data",
          array: millikelvin(of.map(({ uncertainty }) => uncertainty)),
          color: marker.color,
          thickness: 1.5,
          visible: of.some(({ uncertainty }) => uncertainty > 0),
        },
        marker,
        hovertemplate: `%{x:.4~g} ${unit.name}<br>%{y:.2~f} mK<extra>${name}</extra>`,
      },
    ];
  });
  return {
    data,
    layout: layout(options.title ?? `${fit.name}: measured and fitted`, {
      xaxis: axis(`heater power (${unit.name})`, { range }),
      yaxis: axis(`${place} (mK)`),
    }),
    alt:
      `${points.length} readings of ${spokenPlace} against heater power (marks${bars(points)}) ` +
      `and the fit (lines), the stage at ${groups.map(({ stage }) => formatTemperature(stage)).join(", ")}. ` +
      `${quality(fit)}.`,
  };
}

/**
 * How far off the fit each reading is, in standard uncertainties, against what it reads: a law that is
 * wrong leaves a pattern, the right one scatter.
 */
export function residualsFigure(fit: DrawnFit, options: FitOptions = {}): Figure {
  const { place, spokenPlace, points, groups } = chosen(fit, options);
  const farthest = Math.max(...points.map(({ normalised }) => Math.abs(normalised)));
  const largest = Math.max(3, 1.15 * farthest);
  const isMeasured = points.some(({ uncertainty }) => uncertainty > 0);
  const deviations = isMeasured ? "uncertainties" : "deviations";
  return {
    data: groups.map(({ name, of, marker }) => ({
      type: "scatter",
      mode: "markers",
      name,
      x: millikelvin(of.map(({ measured }) => measured)),
      y: rounded(of.map(({ normalised }) => normalised)),
      customdata: of.map(({ power, place }) => [formatQuantity(power, "W"), place]),
      marker,
      hovertemplate:
        "%{x:.2~f} mK, heater %{customdata[0]}<br>%{y:.2~f}<br>%{customdata[1]}" +
        `<extra>${name}</extra>`,
    })),
    layout: layout(options.title ?? `${fit.name}: readings less fit`, {
      xaxis: axis(`${place} (mK)`),
      yaxis: axis(`residual (standard ${deviations})`, { range: [-largest, largest] }),
      height: 380,
      shapes: [1, -1].map((at) => lineAt("y", at, { color: softInk, width: 1, dash: "dash" })),
      annotations: [
        note("±1σ (68 % expected)", {
          x: 0.01,
          xref: "paper",
          y: -0.97 * largest,
          xanchor: "left",
          yanchor: "bottom",
        }),
      ],
    }),
    alt:
      `How far off the fit the readings of ${spokenPlace} are, against what they read: at most ` +
      `${formatNumber(farthest, 2)} standard ${deviations}. ${quality(fit)}.`,
  };
}

/** The readings to show, by stage temperature, with the look of each. */
function chosen(fit: DrawnFit, options: FitOptions) {
  const thermometer = options.thermometer ?? warmest(fit.points);
  const points = fit.points.filter((point) => point.thermometer === thermometer);
  const stages = stageGroups(points.map(({ stage }) => stage));
  const groups = stages.map((stage, i) => ({
    stage,
    name: `stage at ${formatTemperature(stage)}`,
    of: points.filter((point) => groupOf(stages, point.stage) === stage),
    marker: { color: nth(colours, i), symbol: nth(symbols, i), size: 7 },
    line: { color: nth(colours, i), dash: nth(dashes, i), width: 2 },
  }));
  const isChip = thermometer === "chip";
  const place = isChip ? "hottest point of the chip" : thermometer;
  return { thermometer, place, spokenPlace: isChip ? `the ${place}` : place, points, groups };
}

/** What is to be said of the error bars. */
function bars(points: readonly FitPoint[]): string {
  const largest = Math.max(...points.map(({ uncertainty }) => uncertainty));
  if (largest === 0) return "";
  const measured = points.map((point) => point.measured);
  // A mark is about so high on the axis.
  const mark = 0.02 * (Math.max(...measured) - Math.min(...measured));
  return largest < mark / 2 ? "; standard uncertainties are smaller than these" : " with bars";
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
