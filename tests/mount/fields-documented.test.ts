/** The comment of a field is the only text about it: each has one, with the unit of its reader. */
import { fileURLToPath } from "node:url";
import ts from "typescript";
import { describe, expect, it } from "vitest";
import type { Mount } from "../../src/mount/mount.js";
import { numbersOf } from "../../src/mount/read.js";
import { exampleMount } from "./example.js";
import { exampleMounts } from "./example-mounts.js";

const source = (path: string) => fileURLToPath(new URL(`../../src/${path}`, import.meta.url));
const root = source("mount/mount.ts");
const program = ts.createProgram([root], {
  strict: true,
  exactOptionalPropertyTypes: true,
  noEmit: true,
  skipLibCheck: true,
  target: ts.ScriptTarget.ES2022,
  module: ts.ModuleKind.NodeNext,
  moduleResolution: ts.ModuleResolutionKind.NodeNext,
});
const checker = program.getTypeChecker();
const exported = checker.getExportsOfModule(
  checker.getSymbolAtLocation(program.getSourceFile(root)!)!,
);
const mountType = checker.getDeclaredTypeOfSymbol(exported.find(({ name }) => name === "Mount")!);

/** The members of a type that a written value may be of, by the keys and the words in it. */
function fitting(type: ts.Type, written: unknown): readonly ts.Type[] {
  const members = type.isUnion() ? type.types : [type];
  if (typeof written !== "object" || written === null) return members;
  return members.filter((member) =>
    Object.entries(written).every(([key, value]) => {
      if (checker.getIndexTypeOfType(member, ts.IndexKind.String)) return true;
      if (checker.isArrayType(member) || checker.isTupleType(member)) return Array.isArray(written);
      const property = checker.getPropertyOfType(member, key);
      if (!property) return false;
      const own = checker.getTypeOfSymbol(property);
      return typeof value !== "string" || !own.isStringLiteral() || own.value === value;
    }),
  );
}

/** The comment of the field at a path, or of the list that a number stands in. */
function commentAt(mount: Mount, path: string): string {
  let [types, written, comment]: [readonly ts.Type[], unknown, string] = [[mountType], mount, ""];
  for (const key of path.split(".")) {
    const members = types.flatMap((type) => fitting(type, written));
    written = (written as Readonly<Record<string, unknown>>)[key];
    if (/^\d+$/.test(key)) {
      types = members.flatMap((type) => checker.getTypeArguments(type as ts.TypeReference));
      continue;
    }
    // Of an object by names each entry has the type that all have.
    const named = members.flatMap(
      (type) => checker.getIndexTypeOfType(type, ts.IndexKind.String) ?? [],
    );
    if (named.length > 0) {
      types = named;
      continue;
    }
    const found = members.flatMap((type) => checker.getPropertyOfType(type, key) ?? []);
    comment = found
      .map((symbol) => ts.displayPartsToString(symbol.getDocumentationComment(checker)))
      .join("\n");
    types = found.map((symbol) => checker.getTypeOfSymbol(symbol));
  }
  return comment;
}

const raised: Readonly<Record<string, string>> = { 2: "²", 3: "³", 4: "⁴" };
/** A unit as comments spell it. */
const spelled = (unit: string) =>
  unit.replace("ohm", "Ω").replace(/\^(\d)/g, (_, digit: string) => raised[digit] ?? `^${digit}`);
const unitsIn = (comment: string) =>
  [...comment.matchAll(/\[([^\]]+)\]/g)].map((match) => match[1]!);

/** Fields whose comment has another unit than their reader, and why. */
const others: Readonly<Record<string, string>> = {
  "loads.0.lineLoss": "decibels are a pure number",
  "loads.0.lines.0.lineLoss": "decibels are a pure number",
  "pads.coupling.coefficient": "its unit has the exponent that stands beside it",
};

describe("the comment of a field that is a number", () => {
  it.each(Object.entries({ "the example": exampleMount(), ...exampleMounts }))(
    "has the unit of its reader: %s",
    (_, mount) => {
      const wrong = [...numbersOf(mount).values()].flatMap(({ field, unit }) => {
        const comment = commentAt(mount, field);
        const units = unitsIn(comment);
        const isRight = unit === "" ? units.length === 0 : units.includes(spelled(unit));
        return comment !== "" && isRight ? [] : [`${field} [${spelled(unit)}]: ${comment}`];
      });
      expect(wrong.filter((each) => !(each.split(" ")[0]! in others))).toEqual([]);
    },
  );
});

/** Paths of fields below a type, in any of its forms, that have no comment. */
function bare(type: ts.Type, path: string, seen: Set<ts.Type>): readonly string[] {
  if (seen.has(type)) return [];
  seen.add(type);
  if (type.isUnion()) return type.types.flatMap((member) => bare(member, path, seen));
  if (checker.isArrayType(type) || checker.isTupleType(type)) {
    const entries = checker.getTypeArguments(type as ts.TypeReference);
    return entries.flatMap((entry) => bare(entry, `${path}[]`, seen));
  }
  const named = checker.getIndexTypeOfType(type, ts.IndexKind.String);
  if (named) return bare(named, `${path}.NAME`, seen);
  if (!(type.flags & (ts.TypeFlags.Object | ts.TypeFlags.Intersection))) return [];
  return checker.getPropertiesOfType(type).flatMap((property) => {
    const at = `${path}.${property.name}`;
    const isSaid = property.getDocumentationComment(checker).length > 0;
    // A kind is told by the comment of its interface.
    const missing = isSaid || property.name === "kind" ? [] : [at];
    return [...missing, ...bare(checker.getTypeOfSymbol(property), at, seen)];
  });
}

it("every field of a mount has a comment", () => {
  expect(bare(mountType, "mount", new Set())).toEqual([]);
});
