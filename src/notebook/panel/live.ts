/// <reference lib="dom" />
/**
 * A live panel in the page: its inputs move, the library solves, and what it says stands below.
 * @module
 */
import type { MarginCase } from "../../design/confidence/margin.js";
import type { Sweep } from "../../design/sweeping/sweep-result.js";
import type { Catalogue } from "../../materials/types.js";
import type { Budget } from "../../mount/budget-result.js";
import { FieldError } from "../../units/errors.js";
import { caseWords } from "./cases.js";
import { errorInUnit } from "./controls.js";
import { answerHtml, drawingHtml, inputsHtml, pictureHtml, rowHtml } from "./html.js";
import { element, type Hand, PanelInput } from "./input.js";
import { answerText, curveOf, dropsOf, PanelModel, riseCurve } from "./model.js";
import { mountSource } from "./mount-source.js";
import type { PanelData } from "./panel.js";

/** A sheet that took longer than this is left to the two-node model while a slider moves [ms]. */
const patience = 100;
/** A slider that has stood this long has stopped [ms]. */
const pause = 180;
/** A panel up to this width is drawn as on a telephone, as its style says too [px]. */
const narrowest = 560;
/** What is read aloud waits for this long without a move [ms]. */
const silence = 700;

/** A panel of the page, once its script runs. */
export class LivePanel {
  readonly #root: HTMLElement;
  readonly #model: PanelModel;
  readonly #inputs: readonly PanelInput[];
  /** What the inputs say; NaN where a field holds no number. */
  readonly #numbers: number[];
  /** The last numbers that had an answer, and the answer. */
  #good: readonly number[];
  #budget: Budget | undefined;
  #moved = 0;
  /** The last two solves [ms]. */
  #took: readonly [number, number] = [0, 0];
  #curve: { readonly key: string; readonly rises: Sweep } | undefined;
  /** End of the axis of the drops [mK]. */
  #end = 0;
  #timers = new Map<string, number>();

  constructor(root: HTMLElement, data: PanelData, catalogue: Catalogue) {
    this.#root = root;
    this.#model = new PanelModel(data.mount, data.controls, catalogue, data.rows);
    this.#numbers = [...this.#model.initial];
    this.#good = this.#model.initial;
    if (data.curve) {
      const rises = riseCurve(data.controls[0]!.field, data.curve);
      this.#curve = { key: this.#curveKey(0, this.#good), rises };
    }
    this.#inputs = data.controls.map(
      (control, i) =>
        new PanelInput(control, `${root.id}-${i}`, (number, by) => this.#put(i, number, by)),
    );
    const form = this.#part(".panel-controls");
    form.append(
      ...this.#inputs.map(({ box }) => box),
      ...(data.rows ? [this.#cases()] : []),
      this.#buttons(),
    );
    // Arrow keys move a slider; a notebook around the panel would take them for its own.
    root.addEventListener("keydown", (event) => event.stopPropagation());
    form.addEventListener("submit", (event) => event.preventDefault());
    form.hidden = false;
    root.classList.add("panel-live");
    this.#watchWidth();
    // The first move then finds its code warm, and its sheet reduced; that takes longer than later ones.
    this.#later("warm", 50, () => {
      if (this.#budget === undefined) this.#trySolve(this.#good, false);
      this.#took = [0, 0];
    });
  }

  #part<T extends HTMLElement = HTMLElement>(selector: string): T {
    return this.#root.querySelector<T>(selector)!;
  }

  /** A switch of the cases. */
  #cases(): HTMLElement {
    const model = this.#model;
    const box = element("fieldset", { class: "panel-cases" });
    box.append(element("legend", {}, "Case"));
    for (const [name, { label }] of Object.entries(caseWords)) {
      const radio = element("input", {
        type: "radio",
        name: `${this.#root.id}-case`,
        value: name,
        ...(name === model.case && { checked: "" }),
      });
      radio.addEventListener("change", () => {
        model.case = name as MarginCase;
        this.#took = [0, 0];
        this.#end = 0;
        this.#schedule(false);
      });
      const words = element("label", {});
      words.append(radio, ` ${label}`);
      box.append(words);
    }
    return box;
  }

  #buttons(): HTMLElement {
    const copy = element("button", { type: "button", class: "panel-copy" }, "Copy mount");
    const back = element("button", { type: "button", class: "panel-reset" }, "Reset");
    const said = element("span", { class: "panel-copied", role: "status" });
    copy.addEventListener("click", () => void this.#copy(said));
    back.addEventListener("click", () => {
      this.#model.initial.forEach((number, i) => {
        this.#numbers[i] = number;
        this.#inputs[i]!.write(number);
      });
      this.#schedule(false);
    });
    const box = element("div", { class: "panel-buttons" });
    box.append(copy, back, said);
    return box;
  }

  #put(i: number, number: number, by: Hand): void {
    // What one input makes slow, such as a number of pads, another need not.
    if (i !== this.#moved) this.#took = [0, 0];
    this.#moved = i;
    this.#numbers[i] = number;
    this.#schedule(by === "slider");
  }

  /** Solves before the next picture of the screen, however many events come until then. */
  #schedule(moving: boolean): void {
    this.#root.dataset.state = "moving";
    if (this.#timers.has("frame")) return;
    const frame = requestAnimationFrame(() => {
      this.#timers.delete("frame");
      this.#answer(moving && this.#model.sheet && Math.min(...this.#took) > patience);
    });
    this.#timers.set("frame", frame);
  }

  #later(name: string, delay: number, call: () => void): void {
    clearTimeout(this.#timers.get(name));
    this.#timers.set(name, window.setTimeout(call, delay));
  }

  #trySolve(numbers: readonly number[], twoNode: boolean): Budget {
    const start = performance.now();
    const budget = this.#model.solve(numbers, twoNode);
    const took = performance.now() - start;
    // One solve may be slow for the machine's own reasons; two are slow for the mount's.
    if (!twoNode) this.#took = [this.#took[1], took];
    this.#budget = budget;
    return budget;
  }

  #answer(twoNode: boolean): void {
    const numbers = [...this.#numbers];
    const start = performance.now();
    clearTimeout(this.#timers.get("rest"));
    try {
      const missing = numbers.findIndex((number) => !Number.isFinite(number));
      if (missing >= 0) {
        const { field, unit } = this.#model.controls[missing]!;
        const written = this.#inputs[missing]!.typed;
        const wanted = `a number${unit && ` in ${unit}`}, such as 1.8 or 1,8`;
        throw new FieldError(field, wanted, written);
      }
      this.#show(this.#trySolve(numbers, twoNode), numbers, twoNode);
      if (twoNode) this.#later("rest", pause, () => this.#answer(false));
      this.#root.dataset.milliseconds = (performance.now() - start).toFixed(1);
    } catch (error) {
      if (twoNode) this.#answer(false);
      else this.#refuse(error);
    }
  }

  #show(budget: Budget, numbers: readonly number[], twoNode: boolean): void {
    this.#good = numbers;
    this.#root.dataset.state = twoNode ? "moving" : "answered";
    this.#root.classList.remove("panel-stale");
    for (const input of this.#inputs) input.refuse("");
    const note = this.#part(".panel-note");
    const words = [
      caseWords[this.#model.case].note,
      twoNode ? "While the slider moves: the two-node model of the die." : "",
    ];
    note.textContent = words.filter(Boolean).join(" ");
    note.hidden = note.textContent === "";
    this.#part(".panel-answer").innerHTML = answerHtml(budget);
    this.#part(".panel-inputs").innerHTML = inputsHtml(this.#model, numbers);
    const { figure, end } = dropsOf(budget, this.#end);
    this.#end = end;
    this.#part(".panel-drops").innerHTML = pictureHtml(figure, this.#width);
    this.#showCurve(budget, numbers);
    this.#later("draw", pause, () => this.#draw(numbers));
    this.#later("needed", pause, () => this.#showNeeded(numbers));
    this.#part<HTMLTextAreaElement>("textarea").value = this.#source();
    if (twoNode) return;
    this.#later("say", silence, () => {
      this.#part(".panel-said").textContent = answerText(budget);
    });
  }

  /** How many bonds these numbers need, below the answer; it waits as the drawing does. */
  #showNeeded(numbers: readonly number[]): void {
    const needed = this.#model.bondsNeeded(numbers);
    const rows = this.#part(".panel-answer").querySelector("tbody");
    if (needed === undefined || rows === null) return;
    rows.insertAdjacentHTML("beforeend", rowHtml(["Bonds needed", needed]));
  }

  /** The drawing waits until the inputs stand still: it takes longer than the answer. */
  #draw(numbers: readonly number[]): void {
    const shown = this.#part(".panel-drawing");
    try {
      shown.innerHTML = drawingHtml(this.#model.mountAt(numbers), this.#width);
    } catch (error) {
      shown.textContent = `No drawing: ${(error as Error).message}`;
    }
  }

  get #width(): "wide" | "narrow" {
    return this.#root.clientWidth > narrowest ? "wide" : "narrow";
  }

  /** Pictures are drawn for the width there is; when the panel becomes a narrow or a wide one, again. */
  #watchWidth(): void {
    let drawn = this.#width;
    new ResizeObserver(() => {
      if (this.#width === drawn || this.#root.clientWidth === 0) return;
      drawn = this.#width;
      this.#schedule(false);
    }).observe(this.#root);
  }

  /** The curve is that of the input moved last; it changes only when another one has moved. */
  #showCurve(budget: Budget, numbers: readonly number[]): void {
    const index = this.#moved;
    const shown = this.#part(".panel-curve");
    const draw = (rises: Sweep) => {
      const figure = curveOf(this.#model, rises, index, numbers, budget);
      shown.innerHTML = pictureHtml(figure, this.#width);
      shown.classList.remove("panel-waiting");
    };
    clearTimeout(this.#timers.get("curve"));
    const key = this.#curveKey(index, numbers);
    if (this.#curve?.key === key) {
      draw(this.#curve.rises);
      return;
    }
    shown.classList.add("panel-waiting");
    const steps = this.#model.curve(numbers, index);
    const step = (): void => {
      try {
        const { done, value } = steps.next();
        if (done) {
          this.#curve = { key, rises: value };
          draw(value);
        } else this.#later("curve", 0, step);
      } catch (error) {
        shown.textContent = `No curve: ${(error as Error).message}`;
        shown.classList.remove("panel-waiting");
      }
    };
    if (this.#model.sheet) this.#later("curve", 2 * pause, step);
    else step();
  }

  #curveKey(index: number, numbers: readonly number[]): string {
    // What the unknowns are in a case depends on all inputs.
    const { case: shown } = this.#model;
    const others = numbers.map((number, i) => (i === index && shown === "nominal" ? 0 : number));
    return JSON.stringify([index, shown, others]);
  }

  /** Says what was wanted at the input it is about; the last answer stays, greyed. */
  #refuse(error: unknown): void {
    const { controls } = this.#model;
    const field = error instanceof FieldError ? error.field.replace(/\[(\d+)\]/g, ".$1") : "";
    const named = controls.findIndex((control) => control.field === field);
    const at = named >= 0 ? named : this.#moved;
    this.#root.dataset.state = "refused";
    this.#root.classList.add("panel-stale");
    for (const [i, input] of this.#inputs.entries()) {
      const message =
        named >= 0
          ? errorInUnit(error as FieldError, controls[at]!, input.typed)
          : (error as Error).message;
      input.refuse(i === at ? message : "");
    }
    const note = this.#part(".panel-note");
    note.hidden = false;
    note.textContent = "No answer for this value. Below stands the last that had one.";
    clearTimeout(this.#timers.get("say"));
  }

  #source(): string {
    return mountSource(this.#model.mountAt(this.#good));
  }

  async #copy(said: HTMLElement): Promise<void> {
    if (this.#root.classList.contains("panel-stale")) {
      said.textContent = "Not copied: one input has an error.";
      return;
    }
    const text = this.#part<HTMLTextAreaElement>("textarea");
    text.value = this.#source();
    try {
      await navigator.clipboard.writeText(text.value);
      said.textContent = `Copied.`;
    } catch {
      // A page opened as a file, or inside another, is often refused the clipboard.
      this.#part<HTMLDetailsElement>(".panel-mount").open = true;
      text.focus();
      text.select();
      said.textContent = document.execCommand("copy")
        ? `Copied.`
        : `The clipboard is closed to this page: the text is selected below.`;
    }
  }
}
