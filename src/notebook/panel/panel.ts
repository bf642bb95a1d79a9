/**
 * A live panel: a mount with sliders for some of its inputs, solved again in the reader's browser by
 * this library itself, without a kernel and without a server.
 * @module
 */
import { createHash } from "node:crypto";
import type { MountField } from "../../design/field.js";
import type { Sweep } from "../../design/sweeping/sweep-result.js";
import { standardCatalogue } from "../../materials/standard.js";
import type {
  Catalogue,
  CatalogueChoice,
  CatalogueFiles,
  CatalogueOrigin,
} from "../../materials/types.js";
import type { Mount } from "../../mount/mount.js";
import { plainJson } from "../../plots/traces.js";
import { scriptJson } from "../page/escape.js";
import type { MimeBundle } from "../run/notebook.js";
import { type Control, type ReadControl, readControls } from "./controls.js";
import { answerHtml, drawingHtml, inputsHtml, panelHtml, pictureHtml } from "./html.js";
import {
  answerText,
  type CurveData,
  curveData,
  curveOf,
  dropsOf,
  PanelModel,
  valueText,
} from "./model.js";
import { mountSource } from "./mount-source.js";
import { cellScripts, panelType } from "./script.js";
import { panelStyle } from "./style.js";

/** What a panel carries to the page: plain JSON. */
export interface PanelData {
  readonly mount: Mount;
  readonly controls: readonly ReadControl[];
  /** What a catalogue of one's own has beside the standard one, or in its place. */
  readonly catalogue: Omit<CatalogueOrigin, "files"> & { readonly files?: CatalogueFiles };
  /** The first curve, of the first input. */
  readonly curve?: CurveData;
  /** Uncertain rows of the catalogue that move the mount; absent where nothing is uncertain. */
  readonly rows?: readonly string[];
}

/** A mount with inputs to move; `show` it. */
export class Panel {
  constructor(
    /** The mount as it stands in the panel at first. */
    readonly mount: Mount,
    /** Its sliders and choices. */
    readonly controls: readonly ReadControl[],
    /** Data of the materials; the standard catalogue when absent. */
    readonly catalogue: Catalogue,
  ) {}

  /** The first state in words. */
  toText(): string {
    const model = this.#model();
    const inputs = this.controls.map((c) => `${c.label} ${valueText(c, c.initial)}`).join(", ");
    return `${this.mount.name}, with ${inputs}. ${answerText(model.solve(model.initial))}`;
  }

  /** The panel as a notebook shows it, and as the page does. */
  toBundle(): MimeBundle {
    const model = this.#model();
    const { initial } = model;
    const budget = model.solve(initial);
    const rises = firstCurve(model);
    const rows = model.uncertainRows();
    const data: PanelData = {
      mount: this.mount,
      controls: this.controls,
      catalogue: besideStandard(this.catalogue),
      ...(rises && { curve: curveData(rises) }),
      ...(rows && { rows }),
    };
    const text = scriptJson(plainJson(data));
    const digest = createHash("sha256").update(text).digest("hex").slice(0, 12);
    const id = `coldpath-panel-${digest}-${++panelsMade}`;
    const html = panelHtml(id, text, {
      name: this.mount.name,
      inputs: inputsHtml(model, initial),
      answer: answerHtml(budget),
      drawing: drawingHtml(this.mount, "both"),
      drops: pictureHtml(dropsOf(budget).figure, "both"),
      curve: rises ? pictureHtml(curveOf(model, rises, 0, initial, budget), "both") : "",
      source: mountSource(this.mount),
    });
    return {
      [panelType]: { html },
      "text/html": `<style>${panelStyle}</style>\n${html}\n${cellScripts(id)}`,
      "text/plain": this.toText(),
    };
  }

  #model(): PanelModel {
    return new PanelModel(this.mount, this.controls, this.catalogue);
  }
}

let panelsMade = 0;

/** The curve of the first input, or nothing where a value of it has no steady state. */
function firstCurve(model: PanelModel): Sweep | undefined {
  try {
    const steps = model.curve(model.initial, 0);
    let step = steps.next();
    while (!step.done) step = steps.next();
    return step.value;
  } catch {
    return undefined;
  }
}

/** The texts of the standard catalogue stand on the page already. */
function besideStandard({ origin }: Catalogue): PanelData["catalogue"] {
  const { files, ...rest } = origin;
  const standard = standardCatalogue().origin.files;
  const isStandard = files === standard || JSON.stringify(files) === JSON.stringify(standard);
  return isStandard ? rest : origin;
}

/**
 * A panel of a mount: its drawing, the chip's temperature, where it falls, and a curve, with a slider
 * and a number for each input. Moving one solves the mount again, in the page. On a 2-D die that takes
 * longer than a tenth of a second, the two-node model of the die stands in while a slider moves.
 * @param controls - the inputs, each a numeric field of the mount with the range of its slider
 * @param options - a catalogue of your own in place of the standard one
 * @throws FieldError or UnknownNameError naming the field or the input
 * @example show(panel(mount, [{ field: "bonds.length", from: "0.5 mm", to: "5 mm" }]))
 */
export function panel<const Fields extends readonly MountField[]>(
  mount: Mount,
  controls: { readonly [I in keyof Fields]: Control<Fields[I]> },
  options: CatalogueChoice = {},
): Panel {
  const read = readControls(mount, controls as readonly Control[]);
  return new Panel(mount, read, options.catalogue ?? standardCatalogue());
}
