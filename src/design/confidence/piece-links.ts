/**
 * Where the conductors of a piece of a mount are in a network that is solved many times, and between what
 * temperatures a formula for them is to hold.
 * @module
 */
import { type Conductor, scaled } from "../../conductor.js";
import type { SteadyNetwork } from "../../network/steady.js";
import type { Span } from "./evaluated.js";
import type { FastDie } from "./fast-sheet.js";

export type PieceLinks = ReturnType<typeof pieceLinks>;

/**
 * The conductors of a piece.
 * @param of - between what temperatures nodes lie for which formulas were checked [K], and counts by link
 * @param names - its links @param die - that it is the law of
 * @param known - of the same piece with another number of bonds
 */
export function pieceLinks(
  network: SteadyNetwork,
  { low, high, counts }: Readonly<Record<"low" | "high" | "counts", Float64Array>>,
  names: readonly string[],
  die: FastDie | undefined,
  known: Span | undefined,
) {
  const { temperatures, freeCount, linkNames } = network;
  const links = die ? [] : names.map((each) => linkNames.indexOf(each));
  const lost = links.indexOf(-1);
  if (lost >= 0) throw new Error(`mount: no link in the network is "${names[lost]}".`);
  const nodes = links.flatMap((link) => network.ends(link));
  const most = (some: readonly number[]) => Math.max(0, ...some);
  const free = nodes.filter((n) => n < freeCount);
  const held = nodes.filter((n) => n >= freeCount);
  const { coldest, hottest } = die ?? { coldest: 0, hottest: 0 };
  const own: Span = known ?? [
    die ? 0.7 * coldest : Math.min(...nodes.map((n) => low[n]!)),
    most([hottest, ...free.map((n) => temperatures[n]!)]),
    most(held.map((n) => high[n]!)),
  ];
  return {
    own,
    /** Takes other conductors. */
    put(conductor: Conductor) {
      if (die) die.law = conductor;
      for (let k = 0; k < links.length; k++) {
        network.setConductor(links[k]!, conductor, counts[links[k]!]!);
      }
    },
    /** Takes the same conductors, `factor` times as many. */
    multiply(base: Conductor, factor: number) {
      if (die) die.law = scaled(base, factor);
      for (let k = 0; k < links.length; k++) {
        network.setCount(links[k]!, counts[links[k]!]! * factor);
      }
    },
    /** Temperatures up to a headroom above those at the medians [K]. */
    span: (room: number) => [own[0], Math.max(room * own[1], own[2])] as const,
    /** Narrows the temperatures of the ends to those [K]. */
    limitTo(room: number) {
      for (const n of free) {
        low[n] = Math.max(low[n]!, own[0]);
        high[n] = Math.min(high[n]!, room * own[1]);
      }
      die?.limitTo(own[0], room * own[1]);
    },
  };
}
