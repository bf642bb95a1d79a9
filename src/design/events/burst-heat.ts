/**
 * The heat that the first phonons of a hit leave, for a run in time.
 * @module
 */
import type { HeatBetween } from "../../mount/follow.js";
import type { NodalShare } from "../../mount/links.js";
import type { InTime } from "../../mount/timed.js";
import type { FollowedBurst } from "./phonon-burst.js";

/** Segments of time in each of which heat comes evenly: as many as follow the course of most of it. */
const segments = 12;

/**
 * When and where the energy of a burst goes on as heat: evenly over a segment what films and other contacts
 * took in it, behind them; at the end what broke pairs in the pixels, and all else, where it was last in the
 * die.
 */
export function heatAfter({ burst, ends, tiles, places }: FollowedBurst, run: InTime) {
  const { structure, network } = run;
  const stores = new Set(network.nodes.flatMap(({ name, store }) => (store ? [name] : [])));
  // A film's phonons hand fast ones on to its electrons.
  const behind = new Map(
    [...places].map(([group, place]) => {
      const name = place.replace(/ phonons$/, " electrons");
      return [group, run.nodes.get(name) ?? run.nodes.get(place) ?? []] as const;
    }),
  );
  const nodeOf = (end: number) => {
    const { group, contact } = tiles[end]!;
    const all = behind.get(group) ?? [];
    const node = all.length > contact ? all[contact]! : all[0];
    return node !== undefined && stores.has(node) ? node : structure.box.name;
  };
  const all = [...ends.times.keys()];
  const inDie = all.filter((k) => ends.ends[k]! < 0);
  const taken = all
    .filter((k) => ends.ends[k]! >= 0)
    .sort((a, b) => ends.times[a]! - ends.times[b]!);
  const { energy, packet, until } = burst;
  // What is there at time 0 would be a load of the steady state before the hit.
  let from = taken.length > 0 ? 1e-3 * ends.times[taken[0]!]! : 0;
  const gradual = Array.from({ length: segments }, (_, part): HeatBetween => {
    const own = taken.slice(
      Math.floor((part / segments) * taken.length),
      Math.floor(((part + 1) / segments) * taken.length),
    );
    const to = own.length > 0 ? ends.times[own.at(-1)!]! : from;
    const nodes = shared(own.map((k) => [{ node: nodeOf(ends.ends[k]!), share: 1 / own.length }]));
    const segment = { from, to, energy: own.length * packet, nodes };
    from = Math.max(from, to);
    return segment;
  }).filter((segment) => segment.to > segment.from);
  const nodes = shared(
    inDie.map((k) =>
      run
        .hit({ x: ends.x[k]!, y: ends.y[k]! }, "place")
        .map(({ node, share }) => ({ node, share: share / inDie.length })),
    ),
  );
  const left = inDie.length * packet;
  return {
    gradual,
    ...(left > 0 && { atEnd: { at: until, energy: Math.min(left, energy), nodes } }),
  };
}

/** Shares of nodes, added up. */
function shared(parts: readonly (readonly NodalShare[])[]): readonly NodalShare[] {
  const sums = new Map<string, number>();
  for (const { node, share } of parts.flat()) sums.set(node, (sums.get(node) ?? 0) + share);
  return [...sums].map(([node, share]) => ({ node, share }));
}
