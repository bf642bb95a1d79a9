/** What axe-core finds wrong with an open page for readers who cannot see, point or tell colours. */
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";

const source = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

/** Serious and critical faults, one line a place. */
export async function accessProblems(tab) {
  await tab.evaluate(source);
  const { violations } = await tab.evaluate(() =>
    globalThis.axe.run(document, { resultTypes: ["violations"] }),
  );
  return violations
    .filter(({ impact }) => impact === "serious" || impact === "critical")
    .flatMap(({ id, help, nodes }) =>
      nodes
        .slice(0, 3)
        .map(({ target, html }) => `${id}: ${help} (${target.join(" ")} ${html.slice(0, 80)})`),
    );
}
