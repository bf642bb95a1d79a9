/**
 * Networks that the bench times.
 * @module
 */
import { powerConductor } from "../../dist/joints/index.js";

/** @param {[name: string, from: string, to: string, coefficient: number, exponent: number][]} rows */
const links = (rows) =>
  rows.map(([name, from, to, coefficient, exponent]) => ({
    name,
    from,
    to,
    conductor: powerConductor(coefficient, exponent),
  }));

/** Six nodes and seven links: a glued and bonded chip in a box that stands on a plate. */
export const sixNodes = {
  nodes: [
    { name: "chip", load: 7e-9 },
    { name: "pad phonons" },
    { name: "pad electrons" },
    { name: "box", load: 2e-9 },
    { name: "plate" },
    { name: "stage", temperature: 0.1 },
  ],
  links: links([
    ["boundary", "chip", "pad phonons", 3e-4, 4],
    ["film", "pad phonons", "pad electrons", 2e-2, 5],
    ["bonds", "pad electrons", "box", 1e-6, 2],
    ["glue", "chip", "box", 1e-5, 4],
    ["screws", "box", "plate", 5e-5, 2],
    ["clamp", "plate", "stage", 8e-5, 2],
    ["post", "chip", "stage", 1e-5, 4],
  ]),
};

/** Ten nodes and thirteen links: two sides of pads, plating, ledge, and wiring from 4 K. */
export const tenNodes = {
  nodes: [
    { name: "die centre", load: 7e-9 },
    { name: "die edge" },
    { name: "left pads" },
    { name: "left electrons" },
    { name: "right pads" },
    { name: "right electrons" },
    { name: "plating" },
    { name: "box", load: 1e-9 },
    { name: "stage", temperature: 0.1 },
    { name: "warm", temperature: 4 },
  ],
  links: links([
    ["die", "die centre", "die edge", 2e-4, 4],
    ["left boundary", "die edge", "left pads", 3e-4, 4],
    ["left film", "left pads", "left electrons", 2e-2, 5],
    ["left bonds", "left electrons", "plating", 1e-6, 2],
    ["right boundary", "die edge", "right pads", 2e-4, 4],
    ["right film", "right pads", "right electrons", 1e-2, 5],
    ["right bonds", "right electrons", "plating", 8e-7, 2],
    ["glue", "die edge", "box", 1e-5, 4],
    ["clips", "die edge", "box", 2e-6, 3],
    ["gold film", "plating", "box", 4e-5, 2],
    ["bolts", "box", "stage", 8e-5, 2],
    ["ribbon", "warm", "box", 2e-10, 2],
    ["support", "warm", "stage", 1e-10, 3],
  ]),
};
