import { describe, expect, it } from "vitest";
import { drawOffsetsOfGroups, type OffsetModel } from "../../src/stats/group-offsets.js";
import { randomStream } from "../../src/stats/random.js";

const groupCount = 6;
const cellsOfGroup = 8;
/** Variance of a cell's mean in each of two measures, and their correlation. */
const variance = 0.04;
const precision = [
  [1 / variance, 0],
  [0, 1 / variance],
];

/** Cells of six groups; the offsets move the first measure (kind 0) or both in opposite ways (kind 1). */
function model(seed: number, offsets: readonly (readonly [number, number])[]): OffsetModel {
  const random = randomStream(seed);
  const cells = Array.from({ length: groupCount * cellsOfGroup }, (_, c) => {
    const group = c % groupCount;
    const [first, opposite] = offsets[group] ?? [0, 0];
    const y = [first + opposite, -opposite].map((mean) => -0.7 + mean + Math.sqrt(variance) * random.normal());
    return { y, precision, group, place: 0, along: 0 };
  });
  return {
    cells,
    groupCount,
    placeCount: 1,
    kinds: [
      { prior: 0.03, spread: 0.4, direction: cells.map(() => [1, 0]) },
      { prior: 0.03, spread: 0.4, direction: cells.map(() => [1, -1]) },
    ],
    placeCovariance: [
      [0.04, 0],
      [0, 0.04],
    ],
    groupCovariance: [
      [0.002, 0],
      [0, 0.002],
    ],
    hasTrend: false,
  };
}

/** Share of the draws in which each group has something wrong, and the mean amount of these. */
function summary(given: OffsetModel, seed = 1) {
  const draws = drawOffsetsOfGroups(given, 400, randomStream(seed));
  return Array.from({ length: groupCount }, (_, group) => {
    const own = draws.filter(({ kind }) => (kind[group] as number) >= 0);
    const mean = own.reduce((sum, { amount }) => sum + (amount[group] as number), 0) / Math.max(1, own.length);
    const first = own.filter(({ kind }) => kind[group] === 0).length;
    return { chance: own.length / draws.length, mean, first: first / Math.max(1, own.length) };
  });
}

describe("offsets of groups", () => {
  it("leave honest groups alone: over 60 sets, none is blamed on average by more than its chance beforehand", () => {
    let chance = 0;
    let blamed = 0;
    for (let seed = 1; seed <= 60; seed++) {
      for (const group of summary(model(seed, []), seed)) {
        chance += group.chance / (60 * groupCount);
        if (group.chance > 0.5) blamed += 1;
      }
    }
    expect(chance).toBeLessThan(0.06);
    expect(blamed).toBeLessThanOrEqual(4);
  }, 60_000);

  it("find the one that is off, its kind and its size, and nobody else", () => {
    const found = summary(
      model(3, [
        [0, 0],
        [0, 0],
        [0.5, 0],
      ]),
    );
    expect(found[2]?.chance).toBeGreaterThan(0.95);
    expect(found[2]?.first).toBeGreaterThan(0.9);
    expect(Math.abs((found[2]?.mean ?? 0) - 0.5)).toBeLessThan(0.2);
    for (const [group, one] of found.entries()) if (group !== 2) expect(one.chance, String(group)).toBeLessThan(0.5);
    const other = summary(model(4, [[0, 0.45]]));
    expect(other[0]?.chance).toBeGreaterThan(0.95);
    expect(other[0]?.first).toBeLessThan(0.2);
  });

  it("find two that are off at once, each held against the others as put right", () => {
    const found = summary(
      model(5, [
        [0.6, 0],
        [-0.6, 0],
      ]),
    );
    expect(found[0]?.mean).toBeGreaterThan(0.35);
    expect(found[1]?.mean).toBeLessThan(-0.35);
  });

  it("agree with the closed form for a single group beside a known mean", () => {
    // One kind, groups that differ by nothing else: the posterior mean of the amount is the shrunk difference, times its chance.
    const base = model(9, [[0.3, 0]]);
    const first = base.kinds[0];
    if (first === undefined) throw new Error("two kinds were given");
    const none = [
      [1e-8, 0],
      [0, 1e-8],
    ];
    const given = { ...base, kinds: [{ ...first, prior: 0.5 }], groupCovariance: none };
    const draws = drawOffsetsOfGroups(given, 4000, randomStream(2));
    const own = given.cells.filter(({ group }) => group === 0);
    const others = given.cells.filter(({ group }) => group !== 0);
    const mean = (cells: typeof own) => cells.reduce((sum, { y }) => sum + (y[0] as number), 0) / cells.length;
    // The other groups may be off as well, so that only an estimate near it can be asked for.
    const difference = mean(own) - mean(others);
    const error = variance / own.length + variance / others.length;
    const shrunk = difference * (0.16 / (0.16 + error));
    const amounts = draws.filter(({ kind }) => kind[0] === 0).map(({ amount }) => amount[0] as number);
    const drawn = amounts.reduce((sum, one) => sum + one, 0) / amounts.length;
    expect(Math.abs(drawn - shrunk)).toBeLessThan(0.06);
  });

  it("are the same with the same random numbers", () => {
    const given = model(3, [[0.2, 0]]);
    expect(drawOffsetsOfGroups(given, 20, randomStream(7))).toEqual(drawOffsetsOfGroups(given, 20, randomStream(7)));
  });
});
