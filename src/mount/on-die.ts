/**
 * Things around a further die. Each reads a mount in which that die and what belongs to it stand in the
 * place of the mount's own, and all else is the same; so no thing knows on which die it is. Names begin
 * with the die's: `carrier: bonds`.
 * @module
 */
import type { Conductor, TemperatureRange } from "../conductor.js";
import type { Provenance } from "../provenance.js";
import { FieldError, UnknownNameError } from "../units/errors.js";
import type { Contacts, DrawnPart, End, HeatPath, Parts, PlacedStore } from "./thing.js";

/** Name of the mount's own die among all dies. */
export const ownDie = "die";

/** What belongs to a die. */
export const dieKeys = [
  "die",
  "pads",
  "padGroups",
  "ring",
  "bonds",
  "bondGroups",
  "clamps",
  "glue",
  "back",
  "patches",
  "bodies",
  "loads",
] as const;
type DieKey = (typeof dieKeys)[number];
const isDieKey = (key: string): key is DieKey => (dieKeys as readonly string[]).includes(key);

/** A mount as far as it has further dies. */
export interface WithDies {
  readonly die?: { readonly model?: string };
  readonly dies?: Readonly<Record<string, { readonly [K in DieKey]?: unknown }>>;
}

const known = new WeakMap<object, Map<string, object>>();

/**
 * A mount as the things around one of its dies read it. What it reads, it reads of the mount as that then is.
 * @param name - of a further die, or `ownDie`
 */
export function seenFrom<M extends object>(mount: M, name: string = ownDie): M {
  if (name === ownDie) return mount;
  const views = known.get(mount) ?? new Map<string, object>();
  known.set(mount, views);
  const found = views.get(name) ?? viewOf(mount as M & WithDies, name);
  views.set(name, found);
  return found as M;
}

function viewOf<M extends WithDies>(mount: M, name: string): object {
  const view = {};
  for (const key of new Set([...Object.keys(mount), ...dieKeys])) {
    Object.defineProperty(view, key, {
      enumerable: true,
      get: () => {
        if (!isDieKey(key)) return mount[key as keyof M];
        const own = mount.dies![name]![key];
        if (key === "die") return plateOf(own as object, mount);
        return own ?? (key === "loads" ? [] : undefined);
      },
    });
  }
  return view;
}

/** All dies of a mount are of one model, which its own die has. */
function plateOf(own: object, { die }: WithDies): object {
  return Object.create(own, { model: { enumerable: true, get: () => die?.model } });
}

/** What belongs to the die of a mount, where it is given. */
export function ownKeys<M extends object>(
  mount: M | undefined,
): Partial<Pick<M, DieKey & keyof M>> {
  if (!mount) return {};
  const own = Object.entries(mount).filter(([key, value]) => isDieKey(key) && value !== undefined);
  return Object.fromEntries(own) as Partial<Pick<M, DieKey & keyof M>>;
}

/** `bonds.count` of a die, as a field of the mount. */
export function fieldOn(name: string, field: string): string {
  const [first] = field.split(/[.[]/);
  return isDieKey(first!) && name !== ownDie ? `dies.${name}.${field}` : field;
}

/** A name among all dies: `carrier: bonds`. */
export function nameOn(name: string, of: string): string {
  return name === ownDie ? of : `${name}: ${of}`;
}

/** Runs what reads a mount as seen from a die. @throws its errors, by the fields of the mount */
export function ofDie<M extends object, T>(mount: M, name: string, run: (seen: M) => T): T {
  try {
    return run(seenFrom(mount, name));
  } catch (error) {
    if (error instanceof FieldError) throw error.at(fieldOn(name, error.field));
    if (!(error instanceof UnknownNameError)) throw error;
    throw new UnknownNameError(fieldOn(name, error.field), error.kind, error.value, error.known);
  }
}

/** The numbers and ranges of a law with the die in their names; as they are on the mount's own. */
export function lawOn<L extends { provenance?: readonly Provenance[] }>(name: string, law: L): L {
  if (name === ownDie) return law;
  const { provenance, ranges } = law as L & Pick<Conductor, "ranges">;
  const own = (row: Provenance) =>
    row.source === "given" || row.quantity.startsWith("die: ")
      ? { ...row, quantity: nameOn(name, row.quantity) }
      : row;
  const ofKey = (range: TemperatureRange) =>
    isDieKey(range.of.split(/[.[:]/)[0]!) ? { ...range, of: nameOn(name, range.of) } : range;
  return {
    ...law,
    ...(provenance && { provenance: provenance.map(own) }),
    ...(ranges && { ranges: ranges.map(ofKey) }),
  };
}

/** A law made of a mount as seen from a die. @throws as `ofDie` */
export function lawOfDie<M extends object, L extends { provenance?: readonly Provenance[] }>(
  mount: M,
  name: string,
  make: (seen: M) => L,
): L {
  return lawOn(name, ofDie(mount, name, make));
}

const groups = new WeakMap<object, Map<string, unknown>>();

/** A group of contacts on a further die: the same one whenever it is asked for. */
function contactsOn<M extends object>(name: string, of: Contacts<M>): Contacts<M> {
  const all = groups.get(of) ?? new Map<string, unknown>();
  groups.set(of, all);
  const found = all.get(name) as Contacts<M> | undefined;
  if (found) return found;
  const { film, bands } = of;
  const made: Contacts<M> = {
    name: of.name,
    layer: of.layer,
    die: name,
    field: (k) => fieldOn(name, of.field(k)),
    ...(bands && { bands: (mount: M) => ofDie(mount, name, bands) }),
    lay: (mount) => ofDie(mount, name, (seen) => of.lay(seen)),
    ...(film && {
      film: {
        name: nameOn(name, film.name),
        place: nameOn(name, film.place),
        square: (mount, catalogue) => lawOfDie(mount, name, (seen) => film.square(seen, catalogue)),
      },
    }),
  };
  all.set(name, made);
  return made;
}

function endOn<M extends object>(name: string, end: End<M>): End<M> {
  if ("on" in end) return { ...end, on: contactsOn(name, end.on) };
  if ("behind" in end) {
    return { ...end, behind: contactsOn(name, end.behind), place: nameOn(name, end.place) };
  }
  if ("alone" in end) return { alone: nameOn(name, end.alone) };
  if ("shared" in end) return end;
  return {
    held: nameOn(name, end.held),
    temperature: (mount) => ofDie(mount, name, (seen) => end.temperature(seen)),
  };
}

/** A heat path around a further die. */
export function pathOn<M extends object, P extends HeatPath<M>>(name: string, path: P): P {
  const { count } = path;
  return {
    ...path,
    name: nameOn(name, path.name),
    from: endOn(name, path.from),
    to: endOn(name, path.to),
    conductor: (mount: M, catalogue: Parameters<P["conductor"]>[1]) =>
      lawOfDie(mount, name, (seen) => path.conductor(seen, catalogue)),
    ...(count && { count: (mount: M) => count(seenFrom(mount, name)) }),
  };
}

/** What a thing around a further die adds to the mount. */
export function partsOn<M extends object>(name: string, parts: Parts<M>): Required<Parts<M>> {
  const { contacts = [], paths = [], stores = [] } = parts;
  return {
    contacts: contacts.map((each) => contactsOn(name, each)),
    paths: paths.map((path) => pathOn<M, HeatPath<M>>(name, path)),
    stores: stores.map(
      (each): PlacedStore<M> => ({
        ...each,
        name: nameOn(name, each.name),
        at: endOn(name, each.at) as PlacedStore<M>["at"],
        field: fieldOn(name, each.field),
        store: (mount, catalogue) => lawOfDie(mount, name, (seen) => each.store(seen, catalogue)),
      }),
    ),
  };
}

/** A part of a further die as it is drawn. */
export function drawnOn(name: string, part: DrawnPart): DrawnPart {
  return {
    ...part,
    kind: nameOn(name, part.kind),
    name: part.kind === "die" ? name : nameOn(name, part.name),
    die: name,
  };
}
