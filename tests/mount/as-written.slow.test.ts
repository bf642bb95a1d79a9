import { describe } from "vitest";
import { spoilFields } from "./as-written.js";

describe("a mount with any one wrong field", () => {
  spoilFields(1, 41);
});
