/** Every notebook in notebooks/ but the first runs from top to bottom. */
import { it } from "vitest";
import { expectPage, files, first } from "./notebooks.js";

it.each(files.filter((file) => file !== first))(
  "%s runs without an error, gives a short answer and a page that stands alone",
  async (file) => {
    await expectPage(file);
  },
);
