import { expect, it } from "vitest";
import { readMount, withField } from "../../src/index.js";
import { exampleMount } from "./example.js";

it.each([
  [
    "bonds.diameter",
    "1 mm",
    /^bonds\.diameter: expected a foot that fits on its pad, at most .*, got "1 mm"$/,
  ],
  ["bonds.footRadius", "2 mm", /^bonds\.footRadius: expected a foot that fits .*, got "2 mm"$/],
])(
  "%s of %s, larger than the pad, is refused by the name it was written under",
  (field, value, message) => {
    const mount = exampleMount();
    expect(() => readMount(mount)).not.toThrow();
    expect(() => readMount(withField(mount, field as "bonds.diameter", value as "1 mm"))).toThrow(
      message,
    );
  },
);
