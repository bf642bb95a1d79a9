import { describe, expect, it } from "vitest";
import { readThermometry } from "../../../src/design/fitting/thermometry.js";

const csv = `# a comment
stage [mK],heater power [nW],die [mK],die uncertainty [uK],time [min],note
100,0,101.5,50,0,off
100.2,12.5,108,60,20,on
`;

describe("readThermometry(csv, file)", () => {
  it("reads power and thermometers in SI, in any order, and leaves other columns alone", () => {
    const data = readThermometry(csv, "cool.csv");
    expect([...data.power.values]).toEqual([0, expect.closeTo(12.5e-9, 20)]);
    expect([...data.thermometers.keys()]).toEqual(["stage", "die"]);
    const die = data.thermometers.get("die")!;
    expect([...die.values]).toEqual([expect.closeTo(0.1015, 15), expect.closeTo(0.108, 15)]);
    expect([...die.uncertainties!]).toEqual([expect.closeTo(50e-6, 15), expect.closeTo(60e-6, 15)]);
    expect(data.thermometers.get("stage")!.uncertainties).toBeUndefined();
    expect(data.places).toEqual(["cool.csv:3", "cool.csv:4"]);
  });

  it("leaves texts alone, and numbers under empty brackets", () => {
    const data = readThermometry("line [],heater power [nW],die [mK],note\n1,5,100,on\n");
    expect([...data.thermometers.keys()]).toEqual(["die"]);
    expect(data.thermometers.get("die")!.column).toBe("die [mK]");
  });

  it.each([
    ["", "cool.csv:1: expected a line that names the columns"],
    [
      "heater power [nW],time [s]\n1,2\n",
      "cool.csv: expected a column heater power [W], and thermometers such as die [mK]",
    ],
    [
      "die [mK],stage [mK]\n1,1\n",
      "cool.csv:1 heater power: expected the columns heater power [W]",
    ],
    [
      "heater power [nW],die [mK],dye uncertainty [mK]\n1,100,1\n",
      "cool.csv dye uncertainty: expected a column dye that it belongs to",
    ],
    ["heater power [nW],die [mK]\n1,warm\n", 'cool.csv:2 die: expected a number, got "warm"'],
    ["heater power [nW],die [mK]\n1,-3\n", "cool.csv:2 die: expected a temperature greater than 0"],
    [
      "heater power [nW],die [mK]\n-1,100\n",
      'cool.csv:2 heater power: expected a power, 0 or more, got "-1 nW"',
    ],
    [
      "heater power [nW],die [mK],die uncertainty [mK]\n1,100,0\n",
      'cool.csv:2 die uncertainty: expected an uncertainty greater than 0, got "0 mK"',
    ],
    ["heater power [mK],die [mK]\n1,100\n", "cool.csv:1 heater power: expected a unit such as [W]"],
    ["heater power [nW],die [mK],die [mK]\n1,100,1\n", "cool.csv:1 die: expected the columns"],
    ["heater power [nW],die [mK]\n1\n", "cool.csv:2: expected 2 fields"],
    ["heater power [nW],die [mK]\n", "cool.csv: expected a line of numbers or more"],
    ...["1e-9 W", "10 nW", "-1 W", "W 1e3", "nw"].map((unit): [string, string] => [
      `heater power [${unit}],die [mK]\n1,100\n`,
      `cool.csv:1 heater power: expected a unit such as [W], got "${unit}" (no number in it`,
    ]),
    ...["degC", "degF", "celsius", "10 mK", "mk"].map((unit): [string, string] => [
      `heater power [nW],die [${unit}]\n1,100\n`,
      `cool.csv:1 die: expected a unit such as [K], got "${unit}" (no number in it`,
    ]),
    [
      "heater power,die [mK]\n1,100\n",
      'cool.csv:1 heater power: expected a unit such as [W], got "none"',
    ],
    [
      "heater power [nW],die [mK],edge\n1,100,101\n",
      'cool.csv:1 edge: expected a unit such as [K], or [] where the numbers are no readings, got "none"',
    ],
    [
      "heater power [nW],die [K]\n1,1\n2,320\n",
      'cool.csv:3 die: expected a temperature up to 310 K, that of a room (is the column\'s unit right?), got "320 K"',
    ],
    [
      "heater power [nW],die [mK],stage [mK]\n0,0.09,100\n5,0.11,100\n",
      'cool.csv:3 die: expected die [mK] no colder than stage [mK] with the heater on, 100.0 mK (is the unit of both columns right?), got "110.0 µK"',
    ],
    ["heater power [nW],die [mK\n1,1\n", "cool.csv:1: expected columns written `name [unit]`"],
  ])("refuses %j", (text, message) => {
    expect(() => readThermometry(text, "cool.csv")).toThrow(message);
  });
});
