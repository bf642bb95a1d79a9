import { describe, expect, it } from "vitest";
import type { PlacedPath, PlaceInMount, Structure } from "../../src/mount/assemble.js";
import { largest, mainPath } from "../../src/mount/main-path.js";

const place = (name: string, onDie = false): PlaceInMount => ({ name, onDie }) as PlaceInMount;
const path = (name: string, from: PlaceInMount, to: PlaceInMount) =>
  ({ name, from, to }) as PlacedPath;
const [die, pads, box, stage] = [place("die", true), place("pads"), place("box"), place("stage")];
const [film, bonds, glue, joint] = [
  path("film", die, pads),
  path("bonds", pads, box),
  path("glue", die, box),
  path("joint", box, stage),
];

/** Names of the main path where these flow [W]. */
function names(flows: Readonly<Record<string, number>>, paths: readonly PlacedPath[]) {
  const structure = { chip: die, paths } as Structure;
  return mainPath(structure, (name) => flows[name]!).map(({ name }) => name);
}

describe("the main path", () => {
  it("takes the largest flow at each place", () => {
    const paths = [film, bonds, glue, joint];
    expect(names({ film: 3, bonds: 3, glue: 2, joint: 5 }, paths)).toEqual([
      "film",
      "bonds",
      "joint",
    ]);
    expect(names({ film: 2, bonds: 2, glue: 3, joint: 5 }, paths)).toEqual(["glue", "joint"]);
  });

  it("does not follow heat that runs backward, however much", () => {
    expect(names({ film: -9, bonds: -9, glue: 10, joint: 1 }, [film, bonds, glue, joint])).toEqual([
      "glue",
      "joint",
    ]);
    expect(largest([], () => 1)).toBeUndefined();
    expect(largest([film, glue], ({ name }) => (name === "glue" ? -1 : -2))).toBe(glue);
  });

  it("crosses a 2-D die from where heat comes in to where it leaves, and ends in no circle", () => {
    const [lower, left, right] = ["lower", "left", "right"].map(
      (name) => ({ name, onDie: true, die: "carrier" }) as PlaceInMount,
    );
    const bumps = path("bumps", die, left!);
    const clamps = path("clamps", right!, box);
    expect(names({ bumps: 2, clamps: 2, joint: 2 }, [bumps, clamps, joint])).toEqual([
      "bumps",
      "clamps",
      "joint",
    ]);
    const back = path("back", lower!, left!);
    expect(names({ bumps: 2, back: 3 }, [bumps, back])).toEqual(["bumps", "back"]);
  });
});
