import { describe, expect, it } from "vitest";
import { type Candidates, plausibleOffsets } from "../../src/consequence/plausibility.js";
import { drawOffsets, excessShares, offsetTable, type Rounding } from "../../src/consequence/spreading.js";
import { momentsOf } from "../../src/stats/moments.js";
import { randomStream } from "../../src/stats/random.js";

const whole = { from: -5, to: 5, endsShared: true };
const half = { from: -2, to: 2, endsShared: false };

function roundingOf(wholeShare: readonly number[], halfShare: readonly number[]): Rounding {
  return {
    wholeShare: Float64Array.from(wholeShare),
    halfShare: Float64Array.from(halfShare),
    whole,
    half,
  };
}

describe("excess at round figures", () => {
  it("is exact on an exact mixture", () => {
    // Of 1,000 readings 400 exact (40 a digit), 360 to whole units, 240 to halves (120 on whole, 120 on half points):
    // 520 at whole points, 160 at half points, 40 at each other digit.
    const shares = excessShares(40 + 360 + 120, 40 + 120, 40);
    expect(shares.wholeToWhole).toBeCloseTo(360 / 520, 12);
    expect(shares.wholeToHalf).toBeCloseTo(120 / 520, 12);
    expect(shares.halfToHalf).toBeCloseTo(120 / 160, 12);
  });

  it("finds none where all digits are alike, all where only whole units stand, and nothing below nothing", () => {
    expect(excessShares(50, 50, 50)).toEqual({
      wholeToWhole: 0,
      wholeToHalf: 0,
      halfToHalf: 0,
    });
    expect(excessShares(80, 0, 0)).toEqual({
      wholeToWhole: 1,
      wholeToHalf: 0,
      halfToHalf: 0,
    });
    expect(excessShares(0, 0, 0)).toEqual({
      wholeToWhole: 0,
      wholeToHalf: 0,
      halfToHalf: 0,
    });
    expect(excessShares(30, 20, 50)).toEqual({
      wholeToWhole: 0,
      wholeToHalf: 0,
      halfToHalf: 0,
    });
  });
});

describe("offsets", () => {
  it("are as likely as their density, with shared ends counted half", () => {
    const flat = offsetTable(roundingOf([1, 0, 0.5], [0, 1, 0.25]), () => 0);
    const row = (k: number): number[] => [...flat.probability.subarray(k * 11, k * 11 + 11)];
    // A whole unit: ten tenths, two of them half ones.
    const wholeRow = [0.05, ...Array.from({ length: 9 }, () => 0.1), 0.05];
    row(0).forEach((value, i) => {
      expect(value).toBeCloseTo(wholeRow[i] as number, 12);
    });
    // A half unit: five tenths.
    row(1).forEach((value, i) => {
      expect(value).toBeCloseTo(i >= 3 && i <= 7 ? 0.2 : 0, 12);
    });
    // Half to a whole unit, a quarter to a half one, a quarter exact.
    expect(row(2)[5]).toBeCloseTo(0.25 + 0.5 * 0.1 + 0.25 * 0.2, 12);
    for (let k = 0; k < 3; k++) expect(row(k).reduce((sum, value) => sum + value, 0)).toBeCloseTo(1, 12);
  });

  it("stay where they are when no place is possible, and never go where none is", () => {
    const impossible = offsetTable(roundingOf([1], [0]), () => Number.NaN);
    expect(impossible.probability[5]).toBe(1);
    const upwards = offsetTable(roundingOf([1], [0]), (_, k) => (k < 0 ? Number.NaN : 0));
    expect([...upwards.probability.subarray(0, 5)]).toEqual([0, 0, 0, 0, 0]);
  });

  it("are drawn with these probabilities", () => {
    const count = 40_000;
    const table = offsetTable(roundingOf(new Array(count).fill(1), new Array(count).fill(0)), (_, k) => 0.2 * k);
    const drawn = drawOffsets(table, count, randomStream(11));
    for (let k = -5; k <= 5; k++) {
      const share = drawn.reduce((sum, offset) => sum + Number(offset === k), 0) / count;
      const expected = table.probability[k + 5] as number;
      expect(Math.abs(share - expected)).toBeLessThan(4 * Math.sqrt((expected * (1 - expected)) / count));
    }
  });
});

describe("putting rounded values back", () => {
  // True values normal with SD 0.8, recorded to tenths; all rounded to whole units: the worst case, much spread added.
  const count = 20_000;
  const random = randomStream(5);
  const truth = Float64Array.from({ length: count }, () => Math.round(10 * (-1 + 0.8 * random.normal())) / 10);
  const other = Float64Array.from({ length: count }, () => random.normal());
  const recorded = truth.map((value) => {
    const rest = value - Math.floor(value);
    return Math.abs(rest - 0.5) < 1e-9 ? Math.floor(value) + Number(random.uniform() < 0.5) : Math.round(value);
  });

  it("rounding adds the variance of a uniform distribution, unit^2 / 12: SD 0.289 for a whole unit", () => {
    // The rounding of whole units: variance 1/12, standard deviation 0.2887 (a standard result).
    const added = momentsOf(recorded).standardDeviation ** 2 - momentsOf(truth).standardDeviation ** 2;
    expect(Math.sqrt(added)).toBeCloseTo(0.289, 1);
    expect(Math.sqrt(1 / 12)).toBeCloseTo(0.289, 3);
  });

  it("takes the added spread away again; a flat draw would add it twice", () => {
    const candidates: Candidates = {
      from: -5,
      first: Array.from({ length: 11 }, (_, k) => recorded.map((value) => value + (k - 5) / 10)),
      second: Array.from({ length: 11 }, () => other),
      logRate: null,
      kept: new Uint8Array(count).fill(1),
    };
    const rounding = roundingOf(new Array(count).fill(1), new Array(count).fill(0));
    const placed = (table: ReturnType<typeof offsetTable>): number => {
      const offsets = drawOffsets(table, count, randomStream(6));
      return momentsOf(recorded.map((value, i) => value + (offsets[i] ?? 0) / 10)).standardDeviation;
    };
    const wanted = momentsOf(truth).standardDeviation;
    const flat = placed(offsetTable(rounding, () => 0));
    const plausible = placed(plausibleOffsets(candidates, rounding));
    expect(Math.abs(plausible - wanted)).toBeLessThan(0.01);
    expect(flat ** 2 - wanted ** 2).toBeCloseTo(2 / 12, 1);
  });
});
