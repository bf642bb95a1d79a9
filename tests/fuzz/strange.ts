/** Values that nobody should write, and descriptions with such values in the place of good ones. */
import fc from "fast-check";

/** Names that mean something to the language. */
const names = [
  "__proto__",
  "constructor",
  "prototype",
  "toString",
  "hasOwnProperty",
  "valueOf",
  "length",
  "then",
  "toJSON",
] as const;
const units = [
  "m",
  "um",
  "mm",
  "K",
  "mK",
  "W",
  "nW",
  "dBm",
  "N",
  "ohm",
  "Hz",
  "s",
  "J",
  "eV",
  "deg",
];
const extremes = [
  Number.NaN,
  Number.POSITIVE_INFINITY,
  Number.NEGATIVE_INFINITY,
  0,
  -0,
  -1,
  0.5,
  5e-324,
  1e-300,
  1e-30,
  1e30,
  1e300,
  Number.MAX_VALUE,
  Number.MAX_SAFE_INTEGER,
  2 ** 32,
];

/** An object that is all depth. */
function nested(depth: number, wrap: (inner: unknown) => unknown): unknown {
  let value: unknown = 1;
  for (let i = 0; i < depth; i++) value = wrap(value);
  return value;
}

export const strangeName = fc.oneof(
  fc.constantFrom(...names),
  fc.string({ maxLength: 12 }),
  fc.constantFrom(
    "../../etc/passwd",
    "a\u0000b",
    "<b>",
    "\u202egold",
    "ＧＯＬＤ",
    "x".repeat(5000),
  ),
);

export const quantityText = fc
  .tuple(
    fc.oneof(fc.double(), fc.integer(), fc.constantFrom(...extremes)),
    fc.constantFrom(...units),
  )
  .map(([number, unit]) => `${number} ${unit}`);

export const strange: fc.Arbitrary<unknown> = fc.oneof(
  fc.constantFrom<unknown>(
    null,
    undefined,
    true,
    false,
    "",
    " ",
    "NaN",
    "Infinity m",
    "1e999 m",
    "0x10 m",
    "1 m m",
    "1 / 2 m",
    "5",
    [],
    {},
    [[]],
    [null],
    [undefined],
    [1, "2 um", {}],
    10n,
    Symbol("strange"),
    () => 1,
    new Date(0),
    new Map([["a", 1]]),
    new Float64Array(3),
    Object.create(null),
    "a,b\n1,2",
  ),
  fc.constantFrom(...extremes),
  fc.double(),
  fc.integer(),
  strangeName,
  quantityText,
  fc
    .record({
      distribution: fc.constantFrom(
        "log-normal",
        "normal",
        "uniform",
        "triangular",
        "measured",
        "no",
      ),
      low: fc.oneof(fc.double(), quantityText, fc.constantFrom(null, {}, "1 um")),
      high: fc.oneof(fc.double(), quantityText, fc.constantFrom(undefined, [], "2 um")),
      value: fc.double(),
      uncertainty: fc.double(),
    })
    .map((spread) => spread),
  fc
    .constantFrom(
      (x: unknown) => [x],
      (x: unknown) => ({ a: x }),
    )
    .map((wrap) => nested(3000, wrap)),
  fc.anything({ maxDepth: 2, withNullPrototype: true, withBigInt: true, withSparseArray: true }),
);

/** One change to a description: where, counted over all of its fields, and what. */
export type Change = { readonly at: number } & (
  | { readonly how: "drop" }
  | { readonly how: "replace"; readonly by: unknown }
  | { readonly how: "scale"; readonly power: number }
  | { readonly how: "unit"; readonly unit: string }
  | { readonly how: "wrap" }
  | { readonly how: "rename" | "add"; readonly name: string; readonly by: unknown }
  | { readonly how: "swap"; readonly with: number }
);

const at = fc.nat({ max: 10_000 });
export const change: fc.Arbitrary<Change> = fc.oneof(
  fc.record({ at, how: fc.constant("drop" as const) }),
  { weight: 4, arbitrary: fc.record({ at, how: fc.constant("replace" as const), by: strange }) },
  {
    weight: 3,
    arbitrary: fc.record({
      at,
      how: fc.constant("scale" as const),
      power: fc.oneof(fc.integer({ min: -6, max: 6 }), fc.integer({ min: -330, max: 320 })),
    }),
  },
  fc.record({ at, how: fc.constant("unit" as const), unit: fc.constantFrom(...units) }),
  fc.record({ at, how: fc.constant("wrap" as const) }),
  fc.record({
    at,
    how: fc.constantFrom("rename" as const, "add" as const),
    name: strangeName,
    by: strange,
  }),
  fc.record({ at, how: fc.constant("swap" as const), with: at }),
);

type Tree = Record<string, unknown>;

/** Every field of a description, as the object it stands in and its name there. */
function fields(tree: unknown, put: ReadonlySet<unknown>, found: [Tree, string][] = []) {
  // What a change has put there is shared by all cases, and stays as it is.
  if (typeof tree !== "object" || tree === null || put.has(tree)) return found;
  for (const key of Object.keys(tree)) {
    found.push([tree as Tree, key]);
    fields((tree as Tree)[key], put, found);
  }
  return found;
}

function define(object: Tree, key: string, value: unknown): void {
  // What would break an array itself, before anybody reads it.
  if (Array.isArray(object) && (key === "length" || key === "constructor")) return;
  Object.defineProperty(object, key, {
    value,
    enumerable: true,
    configurable: true,
    writable: true,
  });
}

/** A copy of a description with changes. */
export function changed(description: unknown, changes: readonly Change[]): unknown {
  const top: Tree = { top: structuredClone(description) };
  const put = new Set<unknown>();
  for (const change of changes) {
    if ("by" in change) put.add(change.by);
    const all = fields(top, put);
    if (all.length === 0) return undefined;
    const [parent, key] = all[change.at % all.length]!;
    const value = parent[key];
    if (change.how === "drop") delete parent[key];
    else if (change.how === "replace") parent[key] = change.by;
    else if (change.how === "scale") parent[key] = scaled(value, change.power);
    else if (change.how === "unit" && typeof value === "string")
      parent[key] = value.replace(/\S+$/, change.unit);
    else if (change.how === "wrap") parent[key] = change.at % 2 ? [value] : { value };
    else if (change.how === "add") define(parent, change.name, change.by);
    else if (change.how === "rename") {
      delete parent[key];
      define(parent, change.name, value);
    } else if (change.how === "swap") {
      const [other, name] = all[change.with % all.length]!;
      // No circles: only plain values change places.
      if (typeof other[name] === "object" || typeof value === "object") continue;
      [parent[key], other[name]] = [other[name], value];
    }
  }
  return top.top;
}

function scaled(value: unknown, power: number): unknown {
  const factor = 10 ** power;
  if (typeof value === "number") return value * factor;
  if (typeof value !== "string") return value;
  const [number, ...unit] = value.split(" ");
  return unit.length > 0 ? [Number(number) * factor, ...unit].join(" ") : value;
}

/** A description with one to four changes; most have one, so that the rest of it is still reached. */
export function strangeVersions<T>(descriptions: fc.Arbitrary<T>): fc.Arbitrary<unknown> {
  const changes = fc.oneof(
    { weight: 3, arbitrary: fc.array(change, { minLength: 1, maxLength: 1 }) },
    fc.array(change, { minLength: 2, maxLength: 4 }),
  );
  return fc.tuple(descriptions, changes).map(([description, list]) => changed(description, list));
}
