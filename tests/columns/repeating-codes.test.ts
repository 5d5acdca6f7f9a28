import { describe, expect, it } from "vitest";
import type { Cells } from "../../src/columns/cells.js";
import { repeatedValues } from "../../src/columns/repeating-codes.js";
import { type Unit, unitsOf } from "../../src/columns/units.js";
import type { MeasureRole } from "../../src/settings/roles.js";
import { type RandomStream, randomStream } from "../../src/stats/random.js";

function cellsOf(values: readonly string[]): Cells {
  const distinct = [...new Set(values)];
  const at = new Map(distinct.map((text, index) => [text, index]));
  const counts = new Uint32Array(distinct.length);
  const codes = Uint32Array.from(values, (text) => at.get(text) ?? 0);
  for (const code of codes) counts[code] = (counts[code] ?? 0) + 1;
  return { file: "f", name: "c", values: distinct, codes, counts, firstRow: new Uint32Array(distinct.length) };
}

const told = (values: readonly string[], role: MeasureRole): string[] => {
  const cells = cellsOf(values);
  return repeatedValues(role, cells, cells.values.map(Number), unitsOf[role][0] as Unit).map(
    ({ index }) => cells.values[index] as string,
  );
};

interface Measure {
  readonly decimals: number;
  readonly draw: (random: RandomStream) => number;
}

/** Plain curves, from memory of the size of children of 6 to 59 months: how wide a column spreads is all that matters here. */
const measures: ReadonlyMap<MeasureRole, Measure> = new Map([
  ["weight", { decimals: 1, draw: (random) => 7 + 9 * random.uniform() + 1.2 * random.normal() }],
  ["height", { decimals: 1, draw: (random) => 66 + 42 * random.uniform() + 3.5 * random.normal() }],
  ["arm-circumference", { decimals: 0, draw: (random) => 146 + 13 * random.normal() }],
]);
const sizes = [300, 900, 3000];
/** Shares of the rows that are rounded to whole and half units (arm: to 10 and 5 mm), from careful to poor. */
const roundings = [0, 0.3, 0.7];

function column({ decimals, draw }: Measure, size: number, rounded: number, random: RandomStream): string[] {
  const coarse = decimals === 0 ? 10 : 1;
  return Array.from({ length: size }, () => {
    const value = draw(random);
    const to = random.uniform() >= rounded ? 10 ** -decimals : random.uniform() < 0.6 ? coarse : coarse / 2;
    return (Math.round(value / to) * to).toFixed(decimals);
  });
}

/** Upper end of a rate's 95 % interval where nothing was seen in n tries: 1 - 0.025^(1/n) (Clopper and Pearson 1934). */
const upperOfNone = (tries: number): number => 1 - 0.025 ** (1 / tries);

describe("values that repeat as a code would", () => {
  it("seed 71, 2,700 columns without codes, rounded or not: hardly any is told of", () => {
    const random = randomStream(71);
    let [columns, alarms] = [0, 0];
    for (const [role, measure] of measures)
      for (const size of sizes)
        for (const rounded of roundings)
          for (let k = 0; k < 100; k++) {
            columns += 1;
            if (told(column(measure, size, rounded, random), role).length > 0) alarms += 1;
          }
    expect(columns).toBe(2700);
    expect(alarms).toBe(0);
    expect(upperOfNone(columns)).toBeLessThan(0.0014);
  });

  // Codes in 5 % of the rows, in forms' own ways of writing 'not measured', at places with many and with few children.
  it.each<[MeasureRole, string]>([
    ["weight", "9.9"],
    ["weight", "8.8"],
    ["height", "99.9"],
    ["height", "88.8"],
    ["arm-circumference", "199"],
    ["arm-circumference", "99"],
  ])("seed 72, 200 columns of 900 rows with codes in 5 %% of them (%s: %s): nearly all are told of", (role, code) => {
    const random = randomStream(72);
    const measure = measures.get(role) as Measure;
    let found = 0;
    for (let k = 0; k < 200; k++) {
      const values = column(measure, 900, 0.3, random).map((text) => (random.uniform() < 0.05 ? code : text));
      const all = told(values, role);
      expect(all.filter((text) => text !== code)).toEqual([]);
      if (all.includes(code)) found += 1;
    }
    expect(found).toBeGreaterThanOrEqual(190);
  });

  it("whole kilograms only, or heights to 5 cm, are rounding and no codes", () => {
    const random = randomStream(73);
    const whole = Array.from({ length: 900 }, () => measures.get("weight")?.draw(random).toFixed(0) ?? "");
    const fives = Array.from({ length: 900 }, () =>
      (5 * Math.round((measures.get("height")?.draw(random) ?? 0) / 5)).toFixed(1),
    );
    expect(told(whole, "weight")).toEqual([]);
    expect(told(fives, "height")).toEqual([]);
  });
});
