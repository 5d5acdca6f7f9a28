import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { binomialTest, clopperPearson, wilson } from "../../src/stats/binomial.js";
import { expectClose, knownValues } from "./close.js";

const known = knownValues("statistics.json").binomial;

interface Row {
  readonly x: number;
  readonly n: number;
  readonly p0: number;
  readonly p_exact: number;
  readonly clopper_pearson: readonly [number, number];
  readonly wilson: readonly [number, number];
}

describe("binomial against R's binom.test and prop.test", () => {
  it.each(known as Row[])("$x of $n against $p0", ({ x, n, p0, p_exact, clopper_pearson, wilson: score }) => {
    expectClose(binomialTest(x, n, p0), p_exact);
    const exact = clopperPearson(x, n);
    expectClose(exact.low, clopper_pearson[0]);
    expectClose(exact.high, clopper_pearson[1]);
    const interval = wilson(x, n);
    expectClose(interval.low, score[0]);
    expectClose(interval.high, score[1]);
  });
});

describe("intervals of Newcombe, Stat Med 1998;17:857-72, Table I", () => {
  // Methods 3 (Wilson) and 5 (Clopper-Pearson); printed to 4 decimals. The table is from memory, each value recomputed.
  it.each([
    [81, 263, 0.2553, 0.3662, 0.2527, 0.3676],
    [15, 148, 0.0624, 0.1605, 0.0578, 0.1617],
    [0, 20, 0, 0.1611, 0, 0.1684],
    [1, 29, 0.0061, 0.1718, 0.0009, 0.1776],
  ])("%d of %d", (x, n, wilsonLow, wilsonHigh, exactLow, exactHigh) => {
    expect(wilson(x, n).low).toBeCloseTo(wilsonLow, 4);
    expect(wilson(x, n).high).toBeCloseTo(wilsonHigh, 4);
    expect(clopperPearson(x, n).low).toBeCloseTo(exactLow, 4);
    expect(clopperPearson(x, n).high).toBeCloseTo(exactHigh, 4);
  });
});

/** The definition written out: every outcome no more likely than the one seen. Probabilities by recurrence. */
function byDefinition(x: number, n: number, p: number): number {
  const mass: number[] = [(1 - p) ** n];
  for (let i = 0; i < n; i++) mass.push((((mass[i] as number) * (n - i)) / (i + 1)) * (p / (1 - p)));
  const limit = (mass[x] as number) * (1 + 1e-7);
  return Math.min(
    1,
    mass.filter((value) => value <= limit).reduce((sum, value) => sum + value, 0),
  );
}

describe("binomial test, any input", () => {
  it("is the sum of all outcomes that are no more likely", () => {
    const input = fc
      .tuple(fc.integer({ min: 1, max: 80 }), fc.integer({ min: 1, max: 99 }))
      .chain(([n, percent]) => fc.tuple(fc.nat(n), fc.constant(n), fc.constant(percent / 100)));
    fc.assert(
      fc.property(input, ([x, n, p]) => {
        expectClose(binomialTest(x, n, p), byDefinition(x, n, p), 1e-9, `${x} ${n} ${p}`);
      }),
      { numRuns: 500 },
    );
  });
  it("turns round: x of n against p is n - x of n against 1 - p", () => {
    expectClose(binomialTest(33, 90, 0.25), binomialTest(57, 90, 0.75), 1e-9);
  });
  it("stays quick and whole with a million trials", () => {
    const p = binomialTest(501000, 1000000, 0.5);
    // Normal approximation with continuity correction: z = (1000 - 0.5) / 500 = 1.999.
    expect(p).toBeCloseTo(0.04560895, 5);
  });
  it("certain and impossible expectations", () => {
    expect(binomialTest(0, 5, 0)).toBe(1);
    expect(binomialTest(1, 5, 0)).toBe(0);
    expect(binomialTest(5, 5, 1)).toBe(1);
    expect(binomialTest(4, 5, 1)).toBe(0);
    expect(binomialTest(0, 0, 0.5)).toBeNaN();
    expect(binomialTest(6, 5, 0.5)).toBeNaN();
    expect(binomialTest(1, 5, Number.NaN)).toBeNaN();
  });
});

describe("intervals, any input", () => {
  it("hold the share and lie within 0 and 1; the exact one turns round", () => {
    const input = fc.integer({ min: 1, max: 2000 }).chain((n) => fc.tuple(fc.nat(n), fc.constant(n)));
    fc.assert(
      fc.property(input, ([x, n]) => {
        for (const interval of [wilson(x, n), clopperPearson(x, n)]) {
          expect(interval.low).toBeGreaterThanOrEqual(0);
          expect(interval.high).toBeLessThanOrEqual(1);
          expect(interval.low).toBeLessThanOrEqual(x / n);
          expect(interval.high).toBeGreaterThanOrEqual(x / n);
        }
        expect(clopperPearson(n - x, n).low).toBeCloseTo(1 - clopperPearson(x, n).high, 9);
      }),
    );
  });
  it("no case: the closed form 1 - (alpha/2)^(1/n)", () => {
    expectClose(clopperPearson(0, 25).high, 1 - 0.025 ** (1 / 25));
    expect(clopperPearson(0, 25).low).toBe(0);
    expect(clopperPearson(25, 25).high).toBe(1);
  });
  it("cannot tell without trials", () => {
    expect(wilson(0, 0).high).toBeNaN();
    expect(clopperPearson(0, 0).high).toBeNaN();
  });
});
