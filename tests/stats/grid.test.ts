import { describe, expect, it } from "vitest";
import { gridOf } from "../../src/stats/grid.js";

const multiples = (grid: number, count = 400) =>
  Array.from({ length: count }, (_, i) => Math.round(grid * i * 1e6) / 1e6);

describe("the grid that numbers stand on", () => {
  it("is found where it is coarser than the decimals: 0.5 mm in centimetres, 50 g in kilograms, 20 g", () => {
    expect(gridOf(multiples(0.05), 0.01, 0.1)).toBeCloseTo(0.05, 12);
    expect(gridOf(multiples(0.02), 0.01, 0.1)).toBeCloseTo(0.02, 12);
    expect(gridOf(multiples(0.005), 0.001, 0.1)).toBeCloseTo(0.005, 12);
  });

  it("is the step where all digits occur, and never above the coarsest asked for", () => {
    expect(gridOf(multiples(0.01), 0.01, 0.1)).toBe(0.01);
    expect(gridOf(multiples(1), 0.1, 0.1)).toBeCloseTo(0.1, 12);
    expect(gridOf(multiples(1), 1, 0.1)).toBe(1);
  });

  it("passes over one slip in more than a hundred and what is missing, not more", () => {
    const slips = (count: number) => [...multiples(0.05), Number.NaN, ...Array<number>(count).fill(1.01)];
    expect(gridOf(slips(3), 0.01, 0.1)).toBeCloseTo(0.05, 12);
    expect(gridOf(slips(8), 0.01, 0.1)).toBe(0.01);
    expect(gridOf([], 0.01, 0.1)).toBe(0.01);
  });
});
