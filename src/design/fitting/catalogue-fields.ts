/**
 * Fields that a mount leaves to the catalogue, written into it: a fit, or what it measured, needs a number there.
 * @module
 */
import { boundary, type MeasuredBoundary } from "../../joints/boundary.js";
import type { Catalogue } from "../../materials/types.js";
import type { Mount, PlainMount } from "../../mount/mount.js";
import { readMount } from "../../mount/read.js";
import { dieSquare } from "../../mount/things/die.js";
import { formatNumber, formatQuantity } from "../../units/format.js";
import { valueAt, withField } from "../field.js";

/** A film as far as the catalogue says how heat gets into it. */
interface FilmByCatalogue {
  readonly material: string;
  readonly coupling?: { readonly sample?: string; readonly coefficient?: unknown };
  readonly boundary?: string | MeasuredBoundary | { readonly resistance: unknown };
}

/** What the catalogue says at a field. */
interface Written {
  /** Field to write, which holds the one asked for. */
  readonly field: string;
  readonly value: unknown;
  /** The number, with its unit. */
  readonly words: string;
}

/**
 * The mount with what the catalogue says at fields that it does not have itself: the coupling and the boundary
 * of its films, and the mean free path in its die. Words tell each; fields that the catalogue says nothing
 * of stay as they are.
 */
export function withCatalogueFields(
  mount: Mount,
  fields: readonly string[],
  catalogue: Catalogue,
): { readonly mount: Mount; readonly warnings: readonly string[] } {
  const warnings: string[] = [];
  const whole = fields.reduce((changed, field) => {
    const found = catalogueValue(readMount(changed), field, catalogue);
    if (!found) return changed;
    warnings.push(
      `${found.field} is not in the mount: the catalogue's, ${found.words}, was written there as the start.`,
    );
    return withField(changed, found.field, found.value);
  }, mount);
  return { mount: whole, warnings };
}

function catalogueValue(
  plain: PlainMount,
  field: string,
  catalogue: Catalogue,
): Written | undefined {
  const [, film, of] = /^(.+)\.(coupling|boundary)\.\w+$/.exec(field) ?? [];
  if (film !== undefined) {
    const own = valueAt(plain, film) as FilmByCatalogue | undefined;
    if (typeof own?.material !== "string") return undefined;
    return of === "coupling"
      ? couplingOf(own, `${film}.coupling`, catalogue)
      : boundaryOf(own, `${film}.boundary`, dieUnder(plain, film), catalogue);
  }
  const [, die] = /^(.*die)\.meanFreePath$/.exec(field) ?? [];
  return die === undefined ? undefined : freePathOf(plain, die, catalogue);
}

function couplingOf(
  { material, coupling }: FilmByCatalogue,
  field: string,
  catalogue: Catalogue,
): Written | undefined {
  if (coupling?.coefficient !== undefined) return undefined;
  const known = catalogue.material(material, field).electronPhononCoupling(coupling?.sample);
  const { coefficient, exponent } = known;
  const words = `${formatNumber(coefficient)} W/(m^3 K^${exponent})`;
  return { field, value: { coefficient, exponent }, words };
}

/** R_B T³ of P = A(T₁⁴ − T₂⁴)/(4 R_B T³). */
function boundaryOf(
  { material, boundary: own = "diffuse mismatch" }: FilmByCatalogue,
  field: string,
  die: string,
  catalogue: Catalogue,
): Written | undefined {
  if (typeof own === "object" && "resistance" in own) return undefined;
  const law = typeof own === "string" ? ({ between: [die, material] } as const) : own;
  const T = 0.1;
  const resistance = T ** 4 / (4 * boundary({ area: 1, ...law }, catalogue, field).integral(T));
  return { field, value: { resistance }, words: formatQuantity(resistance, "m^2 K^4/W") };
}

/** Material of the die that a film lies on. */
function dieUnder(plain: PlainMount, film: string): string {
  const [first, name] = film.split(".");
  const die = first === "dies" ? `dies.${name}.die.material` : "die.material";
  return valueAt(plain, die) as string;
}

/** The free path with which the die conducts as it does, where there is one for all temperatures. */
function freePathOf(plain: PlainMount, field: string, catalogue: Catalogue): Written | undefined {
  const die = valueAt(plain, field) as PlainMount["die"] | undefined;
  if (!die || die.meanFreePath !== undefined || plain.die.model === "flights") return undefined;
  const meanFreePath = 1e-3;
  const [own, given] = [die, { ...die, meanFreePath }].map((each) =>
    dieSquare({ die: each }, catalogue),
  );
  const [path, other] = [0.05, 0.2].map(
    (T) => (meanFreePath * own!.conductance(T)) / given!.conductance(T),
  );
  if (!(Math.abs(path! / other! - 1) < 1e-6)) return undefined;
  const words = formatQuantity(path!, "m");
  return { field: `${field}.meanFreePath`, value: path, words };
}
