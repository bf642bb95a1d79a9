import { expect, it } from "vitest";
import { checkPins, pins, writePins } from "./pinned.js";

if (process.env.COLDPATH_PIN === "write") writePins();

it("There are 330 pinned mounts.", () => {
  expect(pins).toHaveLength(330);
});

checkPins((i) => i % 10 === 0, 6);
