/** Solutions in closed form of plates that are held along their rims, and of heat that spreads in a channel. */

import type { CondensedSheet } from "../../src/chip/condensed-sheet.js";
import type { Contact } from "../../src/chip/contact.js";
import { Sheet } from "../../src/chip/sheet.js";
import { powerConductor, scaled } from "../../src/conductor.js";
import { solveSteady } from "../../src/network/steady.js";
import { checkReference, type Inputs } from "./rows.js";

/** Θ = T: the sheet is linear, and Θ of all places is Θ of its law. */
const law = powerConductor(1, 1);
/** Temperature of what is held. */
const held = 1;

/** A contact for every cell of one rim, and the conductance from the cells' middles to the rim. */
function rim(sheet: Sheet, side: "left" | "right" | "bottom" | "top", upTo = 1) {
  const { cellsX, cellsY, cellWidth, cellLength, width, length } = sheet.grid;
  const upright = side === "left" || side === "right";
  const cells = Math.round(upTo * (upright ? cellsY : cellsX));
  const contacts: Contact[] = Array.from({ length: cells }, (_, k) => {
    const [i, j] = upright
      ? [side === "left" ? 0 : cellsX - 1, k]
      : [k, side === "bottom" ? 0 : cellsY - 1];
    const [x, y] = [i / cellsX, j / cellsY];
    return {
      name: `${side} ${k}`,
      area: {
        left: x * width,
        right: x * width + cellWidth,
        bottom: y * length,
        top: y * length + cellLength,
      },
      layer: side,
    };
  });
  return { contacts, toRim: 2 * (upright ? cellLength / cellWidth : cellWidth / cellLength) };
}

/** Heat from the contacts of rims to nodes of one temperature each, by name of the side. */
function network(
  condensed: CondensedSheet,
  body: ReturnType<CondensedSheet["body"]>,
  sides: readonly { to: string; contacts: readonly Contact[]; toRim: number }[],
  ends: readonly { name: string; temperature?: number; load?: number }[],
) {
  return solveSteady({
    nodes: [...ends, ...condensed.terminals.map((name) => ({ name }))],
    links: sides.flatMap(({ to, contacts, toRim }) =>
      contacts.map(({ name }) => ({
        name: `${name} to ${to}`,
        from: name,
        to,
        conductor: scaled(law, toRim),
      })),
    ),
    bodies: [{ name: "sheet", terminals: condensed.terminals, body }],
  });
}

/** All four rims held, 1 W over the whole sheet. */
function heldAllRound(inputs: Inputs): number {
  const aspect = inputs.number("aspect");
  const cellsY = 48;
  const sheet = new Sheet({ width: aspect, length: 1, cellsX: aspect * cellsY, cellsY });
  const all = (["left", "right", "bottom", "top"] as const).map((side) => rim(sheet, side));
  // A corner cell touches two rims: one contact, two links.
  const contacts = all.flatMap((side) => side.contacts);
  const corners = new Map<string, string>();
  const distinct = contacts.filter((contact, i) => {
    const place = JSON.stringify(contact.area);
    const same = contacts.slice(0, i).find((other) => JSON.stringify(other.area) === place);
    if (same) corners.set(contact.name, same.name);
    return !same;
  });
  const condensed = sheet.condense(distinct);
  const body = condensed.body(law, { kind: "uniform", power: 1 });
  const nodes = [{ name: "rim", temperature: held }, ...distinct.map(({ name }) => ({ name }))];
  const links = all.flatMap(({ contacts, toRim }) =>
    contacts.map(({ name }) => ({
      name: `${name} to rim`,
      from: corners.get(name) ?? name,
      to: "rim",
      conductor: scaled(law, toRim),
    })),
  );
  const bodies = [{ name: "sheet", terminals: condensed.terminals, body }];
  const field = condensed.fieldOf(body, solveSteady({ nodes, links, bodies }), "sheet");
  const found = inputs.text("place") === "mean" ? field.mean : field.hottest.temperature;
  return found - held;
}

/** A channel of width 1: 1 W evenly along part of its lower end, the upper end held. */
function evenStrip(inputs: Inputs): number {
  const [source, height] = [inputs.number("source"), inputs.number("height")];
  const cellsX = 160;
  const sheet = new Sheet({ width: 1, length: height, cellsX, cellsY: cellsX * height });
  const { cellLength } = sheet.grid;
  const top = rim(sheet, "top");
  const condensed = sheet.condense(top.contacts);
  const over = { left: 0, right: source, bottom: 0, top: cellLength };
  const body = condensed.body(law, { kind: "rectangle", power: 1, over });
  const ends = [{ name: "cold end", temperature: held }];
  const solution = network(condensed, body, [{ to: "cold end", ...top }], ends);
  const field = condensed.fieldOf(body, solution, "sheet");
  const [mean] = sheet.condense([{ name: "source", area: over }]).means(field.temperatures);
  // From the middle of the cells to the end that the heat comes in at.
  return mean! - held + cellLength / 2 / source;
}

/** The same with the source at one temperature. */
function isothermalStrip(inputs: Inputs): number {
  const [source, height] = [inputs.number("source"), inputs.number("height")];
  const cellsX = 160;
  const sheet = new Sheet({ width: 1, length: height, cellsX, cellsY: cellsX * height });
  const top = rim(sheet, "top");
  const bottom = rim(sheet, "bottom", source);
  const condensed = sheet.condense([...bottom.contacts, ...top.contacts]);
  const body = condensed.body(law, { kind: "uniform", power: 0 });
  const solution = network(
    condensed,
    body,
    [
      { to: "source", ...bottom },
      { to: "cold end", ...top },
    ],
    [
      { name: "source", load: 1 },
      { name: "cold end", temperature: held },
    ],
  );
  return solution.temperatures.get("source")! - held;
}

/** Held at both ends of a bar 1 mm wide, 1 W over all of it. */
function heatedBar(inputs: Inputs): number {
  const length = inputs.quantity("length", "length");
  const width = 1e-3;
  const sheet = new Sheet({ width: length, length: width, cellsX: 128, cellsY: 8 });
  const sides = (["left", "right"] as const).map((side) => ({ to: "ends", ...rim(sheet, side) }));
  const condensed = sheet.condense(sides.flatMap((side) => side.contacts));
  const body = condensed.body(law, { kind: "uniform", power: 1 });
  const solution = network(condensed, body, sides, [{ name: "ends", temperature: held }]);
  const { hottest } = condensed.fieldOf(body, solution, "sheet");
  return (hottest.temperature - held) / (length / width);
}

checkReference("chip.csv", {
  "rectangle with cold edges": heldAllRound,
  "evenly heated strip on a channel": evenStrip,
  "isothermal strip on a channel": isothermalStrip,
  "bar heated evenly and held at both ends": heatedBar,
});
