/// <reference lib="dom" />
/**
 * One input of a live panel: a slider, a field for a number, and the place of its error.
 * @module
 */
import { lastPlace, numberAtPlace, placeOf, type ReadControl, typedNumber } from "./controls.js";
import { valueText } from "./model.js";

export type Hand = "slider" | "field";

/** An input's elements; `box` holds them all. */
export class PanelInput {
  readonly box = element("div", { class: "panel-control" });
  readonly #slider: HTMLInputElement;
  readonly #field: HTMLInputElement;
  readonly #error: HTMLElement;

  /**
   * @param name - an id of its own in the page
   * @param moved - called with the number, NaN where the field holds none
   */
  constructor(
    readonly control: ReadControl,
    name: string,
    moved: (number: number, by: Hand) => void,
  ) {
    const { label, unit } = control;
    this.#slider = element("input", {
      type: "range",
      min: "0",
      max: String(lastPlace(control)),
      step: "1",
      "aria-label": `${label}, slider`,
    });
    this.#field = element("input", {
      // Not of the type number, from which a browser may drop a comma: 1,8 would be 18.
      type: "text",
      inputmode: "decimal",
      autocomplete: "off",
      id: name,
      "aria-label": `${label}${unit && `, in ${unit}`}`,
      "aria-describedby": `${name}-error`,
    });
    this.#error = element("p", { class: "panel-error", id: `${name}-error`, role: "alert" });
    this.#error.hidden = true;
    this.box.append(
      element("label", { for: name }, label),
      this.#slider,
      this.#field,
      element("span", { "aria-hidden": "true" }, unit),
      this.#error,
    );
    const put = (number: number, by: Hand) => {
      this.write(number, by);
      moved(number, by);
    };
    this.#slider.addEventListener("input", () =>
      put(numberAtPlace(control, Number(this.#slider.value)), "slider"),
    );
    this.#field.addEventListener("input", () => put(typedNumber(this.#field.value), "field"));
    this.write(control.initial);
  }

  /** What stands in the field, as it was typed. */
  get typed(): string {
    return this.#field.value;
  }

  /** Shows a number on slider and field; the one it came from stays as it is. */
  write(number: number, by?: Hand): void {
    if (by !== "field") this.#field.value = String(number);
    if (!Number.isFinite(number)) return;
    if (by !== "slider") this.#slider.value = String(placeOf(this.control, number));
    this.#slider.setAttribute("aria-valuetext", valueText(this.control, number));
  }

  /** Says what was wanted; nothing when the message is empty. */
  refuse(message: string): void {
    if (this.#error.textContent !== message) this.#error.textContent = message;
    this.#error.hidden = message === "";
    for (const input of [this.#slider, this.#field]) {
      if (message === "") input.removeAttribute("aria-invalid");
      else input.setAttribute("aria-invalid", "true");
    }
  }
}

export function element<Name extends keyof HTMLElementTagNameMap>(
  name: Name,
  attributes: Readonly<Record<string, string>>,
  text = "",
): HTMLElementTagNameMap[Name] {
  const made = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  made.textContent = text;
  return made;
}
