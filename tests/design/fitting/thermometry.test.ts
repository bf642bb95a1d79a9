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
      "cool.csv:2 heater power: expected a power, 0 or more, got -1e-9",
    ],
    [
      "heater power [nW],die [mK],die uncertainty [mK]\n1,100,0\n",
      "cool.csv:2 die uncertainty: expected an uncertainty greater than 0, got 0",
    ],
    ["heater power [mK],die [mK]\n1,100\n", "cool.csv:1 heater power: expected a unit such as [W]"],
    ["heater power [nW],die [mK],die [mK]\n1,100,1\n", "cool.csv:1 die: expected the columns"],
    ["heater power [nW],die [mK]\n1\n", "cool.csv:2: expected 2 fields"],
    ["heater power [nW],die [mK]\n", "cool.csv: expected a line of numbers or more"],
    ["heater power [nW],die [mK\n1,1\n", "cool.csv:1: expected columns written `name [unit]`"],
  ])("refuses %j", (text, message) => {
    expect(() => readThermometry(text, "cool.csv")).toThrow(message);
  });
});
