/**
 * Colours on a dark ground: one for each that a figure or drawing has on a light one.
 * @module
 */
import { elementLooks } from "./elements.js";
import {
  colours,
  gridColour,
  hatchInk,
  ink,
  limitColour,
  mixed,
  paper,
  patternInk,
  softInk,
  sumColour,
  veil,
} from "./style.js";

const darkPaper = "#171c20";

const plain: Readonly<Record<string, string>> = {
  [colours[0]]: "#A0BFF9",
  [colours[1]]: "#57E39C",
  [colours[2]]: "#CD6A4C",
  [colours[3]]: "#DFC34F",
  [colours[4]]: "#A36BD8",
  [colours[5]]: "#5F8CA6",
  [colours[6]]: "#F4F1FD",
  [ink]: "#dfe3e6",
  [softInk]: "#9aa5ad",
  [limitColour]: "#FF8AC2",
  [paper]: darkPaper,
  [veil]: "rgba(23,28,32,0.88)",
  [gridColour]: "#323a41",
  [hatchInk]: "#b3a698",
  [sumColour]: "#4a525a",
  [patternInk]: "rgba(0,0,0,0.55)",
};

/** What each colour becomes on a dark ground. Colours on a map, and those not named here, stay. */
export const darkColours: Readonly<Record<string, string>> = {
  ...plain,
  ...Object.fromEntries(
    Object.values(elementLooks).map(({ colour, tint, strength }) => [
      tint,
      mixed(plain[colour]!, darkPaper, strength),
    ]),
  ),
};

/**
 * A figure's JSON in the colours of a dark ground.
 * A page sends this function to the browser as its source, with the colours.
 */
export function inDark<T>(part: T, dark = darkColours): T {
  if (typeof part === "string") return (dark[part] ?? part) as T;
  if (Array.isArray(part)) return part.map((each) => inDark(each, dark)) as T;
  if (typeof part !== "object" || part === null || ArrayBuffer.isView(part)) return part;
  const entries = Object.entries(part).map(([key, value]) => [key, inDark(value, dark)]);
  return Object.fromEntries(entries) as T;
}
