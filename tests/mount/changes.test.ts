import { describe, expect, it } from "vitest";
import { courseOf, loadCourses, stageCourse } from "../../src/mount/changes.js";

describe("the course of a number", () => {
  it("runs in a straight line from the value before, jumps where that takes no time, and stays", () => {
    const { at, breaks } = courseOf(
      1,
      [
        { at: 2, to: 3, over: 4 },
        { at: 6, to: 0, over: 0 },
      ],
      "changes",
    );
    expect([0, 2, 3, 5, 6, 100].map(at)).toEqual([1, 1, 1.5, 2.5, 0, 0]);
    expect(at(6 - 1e-9)).toBeCloseTo(3, 8);
    expect(breaks).toEqual([2, 6, 6]);
  });

  it("refuses a change that begins before the one before it has ended", () => {
    const steps = [
      { at: 1, to: 0, over: 2 },
      { at: 2.5, to: 1, over: 0 },
    ];
    expect(() => courseOf(1, steps, "changes of light")).toThrow(
      "changes of light[1].at: expected 3 s or later, when the change before it has ended, got 2.5",
    );
  });

  it("is one for each load that changes or starts otherwise", () => {
    const courses = loadCourses(["light", "wires", "tones"], { wires: 0.5 }, [
      { at: "1 s", load: "light", to: 0 },
      { at: "2 s", load: "wires", to: 2, over: "2 s" },
      { at: "3 s", load: "light", to: 1 },
    ]);
    expect([...courses.keys()]).toEqual(["wires", "light"]);
    const [light, wires] = ["light", "wires"].map((name) => courses.get(name)!);
    expect([0.5, 1.5, 3.5].map((t) => light!.at(t))).toEqual([1, 0, 1]);
    expect([0, 3, 5].map((t) => wires!.at(t))).toEqual([0.5, 1.25, 2]);
  });

  it("names what is wrong with a change of a load or of the stage", () => {
    const names = ["light"];
    expect(() => loadCourses(names, { dark: 1 }, [])).toThrow(
      'initially: load "dark" is not known',
    );
    expect(() => loadCourses(names, { light: -1 }, [])).toThrow(
      "initially.light: expected a factor",
    );
    const change = (more: object) => () =>
      loadCourses(names, {}, [{ at: 0, load: "light", to: 1, ...more }]);
    expect(change({ load: "lamp" })).toThrow('changes[0].load: load "lamp" is not known');
    expect(change({ to: Number.NaN })).toThrow("changes[0].to: expected a factor of the load");
    expect(change({ over: -1 })).toThrow("changes[0].over");
    expect(() => stageCourse(0.1, [{ at: 0, to: "0 K" }])).toThrow("stage[0].to");
    expect(stageCourse(0.1, [{ at: "10 s", to: "300 mK", over: "10 s" }]).at(15)).toBeCloseTo(
      0.2,
      12,
    );
  });
});
