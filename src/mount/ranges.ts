/**
 * Holds a result against the ranges of temperature that the laws are backed in.
 * @module
 */
import { formatQuantity } from "../units/format.js";
import type { Translation } from "./translate.js";

/**
 * Warnings for every link that was used outside a range of its law.
 * @param extent - lowest and highest temperature that a place had [K]; undefined for a place that
 * is not followed, such as a warm end
 * @throws RangeError where the law is refused there
 */
export function rangeWarnings(
  { network, conductors }: Pick<Translation, "network" | "conductors">,
  extent: (place: string) => readonly [low: number, high: number] | undefined,
): string[] {
  const fixed = new Map(network.nodes.map(({ name, temperature: T }) => [name, T]));
  const extentOf = (name: string) => extent(name) ?? [fixed.get(name)!, fixed.get(name)!];
  const warnings = new Set<string>();
  for (const { name, from, to } of network.links) {
    const [a, b] = [extentOf(from), extentOf(to)];
    const [cold, hot] = [Math.min(a[0], b[0]), Math.max(a[1], b[1])];
    for (const range of conductors.get(name)!.ranges ?? []) {
      if (cold >= range.from * (1 - 1e-9) && hot <= range.to * (1 + 1e-9)) continue;
      const [low, high, outside] = [range.from, range.to, cold < range.from ? cold : hot].map((T) =>
        formatQuantity(T, "K"),
      );
      const message = `${name}: ${outside} is outside ${low} to ${high}, where ${range.of} holds`;
      if (range.outside === "refuse") {
        throw new RangeError(`${message}. Use another material or sample, or add a law for it.`);
      }
      warnings.add(`${message}; the law was continued.`);
    }
  }
  return [...warnings];
}
