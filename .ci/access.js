/** What axe-core finds wrong with an open page for readers who cannot see, point or tell colours. */
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";

const source = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

/** All faults, one line a place; what is folded is opened for it. */
export async function accessProblems(tab) {
  await tab.evaluate(source);
  await tab.evaluate(() => {
    for (const fold of document.querySelectorAll("details")) fold.open = true;
  });
  const { violations } = await tab.evaluate(() =>
    globalThis.axe.run(document, {
      resultTypes: ["violations"],
      rules: { "target-size": { enabled: true } },
    }),
  );
  return violations.flatMap(({ id, help, nodes }) =>
    nodes
      .slice(0, 3)
      .map(({ target, html }) => `${id}: ${help} (${target.join(" ")} ${html.slice(0, 80)})`),
  );
}
