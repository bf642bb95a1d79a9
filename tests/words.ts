/**
 * Words that this project once used for what its readers have a standard term for, and where each
 * must not come back. The standard terms are those of the field; the list was drawn up by reading
 * every page and message.
 */
import ts from "typescript";

/** What a reader of results sees; what a reader of the code sees. */
export type Kind = "text" | "comment" | "name";

/** A term that is out. */
export interface Term {
  /** As it stood; the pattern must find it. */
  readonly once: string;
  readonly pattern: RegExp;
  /** What to write. */
  readonly write: string;
  /** Where it is looked for. */
  readonly kinds: readonly Kind[];
}

const texts = ["text"] as const;
const prose = ["text", "comment"] as const;
const all = ["text", "comment", "name"] as const;

const term = (once: string, pattern: RegExp, write: string, kinds: readonly Kind[] = texts) =>
  ({ once, pattern, write, kinds }) satisfies Term;

export const terms: readonly Term[] = [
  // In what users see.
  term("Governs", /\bgovern/i, "largest drop, dominant resistance", prose),
  term("bad case", /\bbad (case|end)/i, "worst case, pessimistic limit", prose),
  term("numbers as published", /\bas published\b/i, "nominal values", prose),
  term("Fewest  42", /\bfewest\b/i, "minimum", prose),
  term(
    "Better  pads twice as thick",
    /^Better\b|^Costs\b|^Choose\b/m,
    "Improvement, Most sensitive to, Recommended",
  ),
  term("not told", /\bnot told\b(?! apart)/i, "not determined", prose),
  term(
    "costs the most",
    /\bcosts? (the most|most|so|how)\b|what (it|each) costs/i,
    "has the largest drop, most sensitive to",
    prose,
  ),
  term(
    "hold the limit",
    /\b(holds?|held|holding) (its|the|their|a|no|that) (limits?|rise)\b|\blimit (is|are|was|be) held\b/i,
    "meet the limit",
    prose,
  ),
  term("324 have room", /\b(have|has|had|is|be|no) room\b|\broom for\b/i, "fit", prose),
  term("bonds without number", /\bwithout number\b/i, "infinitely many bonds", prose),
  term("quick model", /\bquick (model|mount|rise|one|die|budget)\b/i, "two-node model", prose),
  term("centre and edge", /\bcentre and (an )?edge\b/i, "two-node model", prose),
  term("lumped", /\blumped\b/i, "two-node model", prose),
  term(
    "the die as a sheet",
    /\b(die|solved|chip) (out )?as an? (sheet|field)\b|\bon (a|the) sheet\b/i,
    "2-D model of the die",
    prose,
  ),
  term(
    "5.00 mm across and 5.00 mm up",
    /\bacross and\b.*\bup\b|\bacross the die\b|\bup the die\b/i,
    "x, y",
    texts,
  ),
  term("hottest place", /\b(hottest|coldest|warmest) places?\b/i, "hottest point", prose),
  term("at rest", /\b(at|above|to|no) rest\b/i, "steady state, above the baseline", prose),
  term(
    "times in which it comes back",
    /\btimes in which\b.{0,20}\bcomes? back\b/i,
    "thermal time constants",
    prose,
  ),
  term("hit record", /\bhit record\b/i, "event simulation", prose),
  term(
    "time is lost",
    /\b(time|share|chip|hour) (is|are|was|were) lost\b|\blost time\b/i,
    "dead time",
    prose,
  ),
  term("Heat in", /^Heat in$|\bheat put in\b/im, "heat loads", prose),
  term(
    "heat it takes",
    /\bheat it takes\b|\bmost it is known to take\b/i,
    "heat load; largest measured cooling power",
    prose,
  ),
  term("beside the main path", /\bbeside the main path\b/i, "parallel path", prose),
  term(
    "what temperature leaves of the quality",
    /\bleaves of (the|its) quality\b/i,
    "internal quality factor against temperature",
    prose,
  ),
  term("keeps up to", /\bkeeps up to\b/i, "met up to", prose),
  term(
    "internal quality",
    /\b(internal|coupling) quality\b(?! factor)/i,
    "internal quality factor, Qᵢ",
    prose,
  ),
  term("sunk at 1 K", /(?<!heat-)\bsunk\b/i, "heat-sunk", prose),
  term("foot of a bond", /\b(foot|feet) of (a|the|each) bonds?\b/i, "bond foot", prose),
  term("pressed: gold on copper (ball)", /\bpressed: /i, "pressed contact", prose),
  term(
    "the law was continued",
    /\b(was|were) continued\b/i,
    "extrapolated beyond its range",
    prose,
  ),
  term("nothing sound continues it there", /\bnothing sound\b/i, "no valid extrapolation", prose),
  term("no heat to speak of", /\bheat to speak of\b/i, "negligible heat flow", prose),
  term(
    "the readings hardly hang on",
    /\breadings (hardly )?hang/i,
    "the readings are insensitive to",
    prose,
  ),
  term("what both do together", /\bboth do together\b/i, "only their sum is determined", prose),
  term("a right model would have so much", /\bright model would\b/i, "p = 0.31", prose),
  term(
    "two thirds belong between the lines",
    /\btwo thirds belong\b/i,
    "±1σ (68 % expected)",
    prose,
  ),
  term(
    "are 44 % sure",
    /% sure\b|\b(are|is|how) sure\b/i,
    "meet the limit with a probability of 44 %",
  ),
  term("in the band, out of it", /\bout of (it|the band)\b/i, "in-band, out-of-band", prose),
  term("alone; in company", /\bin company\b/i, "first-order; total-effect", prose),
  term("not told from 0", /\bnot told from\b/i, "not significant", prose),
  term("independent arrangements", /\bindependent arrangements?\b/i, "replicates", prose),
  term("so many times over", /\btimes over\b/i, "scaled by"),
  term("muons by the law of the sky", /\blaw of the sky\b/i, "muons with the cosⁿθ flux", prose),
  term("Back to the start", /\bback to the start\b/i, "Reset", prose),
  term("Or build it away", /\bbuild it away\b/i, "design alternative", prose),
  term(
    "Where each loses its millikelvins",
    /\bloses? its millikelvins?\b/i,
    "temperature drops by mount",
    prose,
  ),
  term("from memory", /\bfrom memory\b/i, "not checked against the publication (grade C)"),
  // In code and comments.
  term("RestingMount", /\bresting|Resting/, "steady state, operating point", all),
  term(
    "settle",
    /\b(the|a) (stage|chip|mount) settles?\b|\byou must settle\b|^settle/,
    "solve for the steady state",
    all,
  ),
  term(
    "the reduced body of a die",
    /\breduced (body|bodies|die|sheet)\b|ReducedBody|reducedBody/,
    "condensed",
    all,
  ),
  term("toWaves", /\bwaves\b(?! of)|[Ww]aves[A-Z]|toWaves/, "cosine modes, forward transform", [
    "name",
  ]),
  term("isDear", /\bdear\b|isDear/, "expensive factorisation", all),
  term("takeOver", /takeOver/, "update values", ["name"]),
  term("Hearing", /\bhear[sd]?\b|\bHearing\b/, "visitor", all),
  term("glance", /\bglances?\b/i, "finite-difference step", all),
  term("Stretch", /\bStretch(es)?\b|\bstretch(es)?\b/, "segment", ["name"]),
  term("Watch", /\bWatch(es)?\b/, "event detector", ["name"]),
  term("dealt", /\bdealt\b/, "apportioned (largest remainder)", all),
  term("drawUp", /drawUp/, "make the budget", ["name"]),
  term("ninety", /\bninety\b/, "z at 95 %", all),
  term("door of a floor", /\bdoors?\b/i, "the only module that imports a package", all),
  term("the house", /\b(the|a|this) (house|road)\b/i, "architecture, pipeline", all),
  term("a lower floor", /\b(lower|upper|next|this|its) floors?\b/i, "layer", prose),
];

/** A piece of a file and where it begins. */
export interface Piece {
  readonly kind: Kind;
  readonly text: string;
  readonly line: number;
}

/** Texts, comments and names of TypeScript. */
export function piecesOf(source: string): Piece[] {
  const file = ts.createSourceFile("x.ts", source, ts.ScriptTarget.Latest, true);
  const pieces: Piece[] = [];
  const lineAt = (at: number) => file.getLineAndCharacterOfPosition(at).line + 1;
  const add = (kind: Kind, text: string, at: number) =>
    pieces.push({ kind, text, line: lineAt(at) });
  const seen = new Set<number>();
  const comments = (at: number) => {
    for (const range of [
      ...(ts.getLeadingCommentRanges(source, at) ?? []),
      ...(ts.getTrailingCommentRanges(source, at) ?? []),
    ]) {
      if (seen.has(range.pos)) continue;
      seen.add(range.pos);
      add("comment", source.slice(range.pos, range.end).replace(/\s*\n\s*\*?\s*/g, " "), range.pos);
    }
  };
  const visit = (node: ts.Node) => {
    comments(node.pos);
    comments(node.end);
    if (ts.isImportDeclaration(node) || (ts.isExportDeclaration(node) && node.moduleSpecifier))
      return;
    if (ts.isStringLiteral(node) || ts.isNoSubstitutionTemplateLiteral(node))
      add("text", node.text, node.getStart());
    else if (ts.isTemplateExpression(node)) {
      const words = [
        node.head.text,
        ...node.templateSpans.flatMap(({ literal }) => ["…", literal.text]),
      ];
      add("text", words.join(""), node.getStart());
    } else if (ts.isIdentifier(node)) add("name", node.text, node.getStart());
    ts.forEachChild(node, visit);
  };
  visit(file);
  return pieces;
}

/** Prose of a Markdown file, and the pieces of its TypeScript. */
export function piecesOfMarkdown(source: string): Piece[] {
  let isCode = false;
  return source.split("\n").flatMap((text, i): Piece[] => {
    if (text.startsWith("```")) isCode = !isCode;
    return [{ kind: "text", text, line: i + 1 }];
  });
}

/** Cells of a notebook. */
export function piecesOfNotebook(source: string): Piece[] {
  const { cells } = JSON.parse(source) as {
    cells: { cell_type: string; source: string | readonly string[] }[];
  };
  return cells.flatMap((cell, i) => {
    const text = [cell.source].flat().join("");
    const found = cell.cell_type === "code" ? piecesOf(text) : piecesOfMarkdown(text);
    return found.map((piece) => ({ ...piece, line: i }));
  });
}
