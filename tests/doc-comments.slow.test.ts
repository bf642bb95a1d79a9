import { expect, it } from "vitest";
import { agrees, printedBy } from "./compiled.js";
import { examples, programOf } from "./doc-comments.js";

it("examples in doc comments give what they say", () => {
  // Examples may print, too; the results are the last line.
  const results: unknown[] = JSON.parse(printedBy(programOf(examples)).trim().split("\n").at(-1)!);
  expect(results).toHaveLength(examples.length);
  const wrong = examples.flatMap(({ name, says }, i) =>
    says === undefined || agrees(results[i], says)
      ? []
      : [`${name}: says ${says}, gives ${JSON.stringify(results[i])}`],
  );
  expect(wrong).toEqual([]);
});
