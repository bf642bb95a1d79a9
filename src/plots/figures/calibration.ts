/**
 * A fit beside what was measured: readings with error bars and the fitted curve at each stage temperature, and
 * below that how far off each reading is.
 * @module
 */
import { type DrawnFit, type FitPoint, groupOf, stageGroups } from "../../design/fitting/fit.js";
import { formatNumber, formatQuantity, formatTemperature } from "../../units/format.js";
import { stacked } from "../composite.js";
import { directLabels } from "../direct-labels.js";
import type { Figure, FigureOptions } from "../figure.js";
import { lineAt, millikelvin, unitOfPower } from "../figure-parts.js";
import { axis, colours, dashes, layout, note, nth, rounded, softInk } from "../style.js";

/** What a fit's figures show. */
export interface FitOptions extends FigureOptions {
  /** Only this thermometer; the one with the largest rise when absent. */
  readonly thermometer?: string;
}

const symbols = "circle square diamond triangle-up triangle-down cross x".split(" ");

/**
 * Readings with error bars and the fit, one colour a stage temperature, and below them how far off the fit each
 * reading is, in standard uncertainties: a law that is wrong leaves a pattern there, the right one scatter.
 */
export function fitFigure(fit: DrawnFit, options: FitOptions = {}): Figure {
  const { thermometer, place, spokenPlace, points, groups } = chosen(fit, options);
  const most = Math.max(...points.map(({ power }) => power));
  const unit = unitOfPower(most);
  const curves = fit.curves().filter((curve) => curve.thermometer === thermometer);
  const stages = groups.map((group) => group.stage);
  const drawn = groups.map((group) => ({
    ...group,
    curve: curves.find((each) => groupOf(stages, each.stage) === group.stage)!,
    powers: rounded(group.of.map(({ power }) => power / unit.size)),
  }));
  const [from, to] = [-0.03, 1.04].map((end) => (end * most) / unit.size) as [number, number];
  const xaxis = axis(`heater power (${unit.name})`, { range: [from, to] });
  const reached = [
    ...points.flatMap(({ measured, uncertainty }) => [
      measured - uncertainty,
      measured + uncertainty,
    ]),
    ...drawn.flatMap(({ curve }) => [...curve.temperatures]),
  ];
  const [coldest, warmest] = [1e3 * Math.min(...reached), 1e3 * Math.max(...reached)];
  const margin = 0.08 * (warmest - coldest || coldest);
  const [low, high] = [coldest - margin, warmest + margin];
  const labels = directLabels(
    drawn.map(({ name, curve }) => ({
      name,
      x: Array.from(curve.powers, (power) => power / unit.size),
      y: Array.from(curve.temperatures, (T) => 1e3 * T),
    })),
    { low: from, high: to },
    { low, high },
  );
  const measured: Figure = {
    data: drawn.flatMap(({ name, of, powers, curve, marker, line }) => [
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
        showlegend: labels === undefined,
        x: powers,
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
    ]),
    layout: layout(options.title ?? `${fit.name}: measured and fitted`, {
      xaxis,
      yaxis: axis(`${place} (mK)`, { range: [low, high] }),
      annotations: labels ?? [],
    }),
    alt:
      `${points.length} readings of ${spokenPlace} against heater power (marks${bars(points)}) ` +
      `and the fit (lines), the stage at ${groups.map(({ stage }) => formatTemperature(stage)).join(", ")}. `,
  };
  const farthest = Math.max(...points.map(({ normalised }) => Math.abs(normalised)));
  const largest = Math.max(3, 1.15 * farthest);
  const isMeasured = points.some(({ uncertainty }) => uncertainty > 0);
  const deviations = isMeasured ? "uncertainties" : "deviations";
  const residuals: Figure = {
    data: drawn.map(({ name, of, powers, marker }) => ({
      type: "scatter",
      mode: "markers",
      name,
      showlegend: false,
      x: powers,
      y: rounded(of.map(({ normalised }) => normalised)),
      customdata: of.map(({ power, place }) => [formatQuantity(power, "W"), place]),
      marker,
      hovertemplate: `heater %{customdata[0]}<br>%{y:.2~f}<br>%{customdata[1]}<extra>${name}</extra>`,
    })),
    layout: layout("", {
      xaxis,
      yaxis: axis(`residual (standard ${deviations})`, { range: [-largest, largest] }),
      shapes: [1, -1].map((at) => lineAt("y", at, { color: softInk, width: 1, dash: "dash" })),
      annotations: [
        note("±1σ (68 % expected)", {
          x: 1,
          xref: "paper",
          y: -0.97 * largest,
          xanchor: "right",
          yanchor: "bottom",
        }),
      ],
    }),
    alt: "",
  };
  const both = stacked(measured, residuals);
  const off = `Below, how far off the fit they are: at most ${formatNumber(farthest, 2)} standard ${deviations}. `;
  return { ...both, alt: `${measured.alt}${off}${quality(fit)}.` };
}

/** The readings to show, by stage temperature, with the look of each. */
function chosen(fit: DrawnFit, options: FitOptions) {
  const rise = ({ measured, stage }: FitPoint) => measured - stage;
  const warmest = fit.points.reduce((most, point) => (rise(point) > rise(most) ? point : most));
  const { thermometer = warmest.thermometer } = options;
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
