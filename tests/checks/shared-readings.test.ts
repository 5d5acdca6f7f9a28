import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { pairsOf, pairsWithin, refine, sizesOf } from "../../src/checks/duplicate-rows/repeats.js";
import { adjustTogether } from "../../src/checks/shared/multiplicity.js";
import { mostSerious, readDeparture, readGroupsTogether } from "../../src/checks/shared/reading.js";
import { countGroups, groupAgainstOthers, shareAgainst } from "../../src/checks/shared/shares.js";
import { bookOf } from "../../src/disclosure/book.js";
import { binomialTest } from "../../src/stats/binomial.js";
import { makeChildren } from "./make-children.js";

describe("readings", () => {
  const limits = { explain: 0.05, doubt: 0.2 };
  it("need both a probability and a size", () => {
    expect(readDeparture(0.04, 0.06, limits)).toBe("explain");
    expect(readDeparture(0.04, 0.04, limits)).toBe("expected");
    expect(readDeparture(0.06, 0.5, limits)).toBe("expected");
    expect(readDeparture(0.0005, 0.1, limits)).toBe("explain");
    expect(readDeparture(0.0005, 0.2, limits)).toBe("doubt");
  });
  it("never take what could not be computed for fine", () => {
    expect(readDeparture(Number.NaN, 0, limits)).toBe("unknown");
    expect(readDeparture(0.5, Number.NaN, limits)).toBe("unknown");
    expect(mostSerious([])).toBe("unknown");
    expect(mostSerious(["unknown", "expected"])).toBe("expected");
  });
  it("doubt the survey only for groups that carry a tenth of it", () => {
    expect(readGroupsTogether([{ n: 9, reading: "doubt" }], 100)).toBe("explain");
    expect(
      readGroupsTogether(
        [
          { n: 10, reading: "doubt" },
          { n: 90, reading: "expected" },
        ],
        100,
      ),
    ).toBe("doubt");
    expect(readGroupsTogether([], 100)).toBe("unknown");
  });
});

describe("probabilities of one check together", () => {
  it("are Holm's over the overall ones and each family's best", () => {
    const { overall, families } = adjustTogether([0.01, 0.2], [[0.004, 0.5, Number.NaN]]);
    // Components 0.01, 0.2 and min(2 * 0.004, 0.5) = 0.008: Holm gives max(0.024, 2 * 0.01) and 0.2.
    expect(overall[0]).toBeCloseTo(0.024, 12);
    expect(overall[1]).toBeCloseTo(0.2, 12);
    expect(families[0]?.[0]).toBeCloseTo(0.024, 12);
    expect(families[0]?.[2]).toBeNaN();
  });
  it("leave what could not be tested out of the count", () => {
    expect(adjustTogether([0.03, Number.NaN], [[]]).overall).toEqual([0.03, Number.NaN]);
  });
});

describe("shares against an expectation", () => {
  it("are never surer than the exact test, and less sure with a design effect", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 400 }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        fc.double({ min: 0.05, max: 0.95, noNaN: true }),
        (n, part, expected) => {
          const cases = Math.round(n * part);
          const alone = shareAgainst(cases, n, expected, { designEffect: 1, degreesOfFreedom: 30 });
          const clustered = shareAgainst(cases, n, expected, { designEffect: 2, degreesOfFreedom: 30 });
          expect(alone.probability).toBeGreaterThanOrEqual(binomialTest(cases, n, expected));
          expect(clustered.probability).toBeGreaterThanOrEqual(alone.probability - 1e-12);
          expect(clustered.interval.low).toBeLessThanOrEqual(alone.interval.low + 1e-12);
          expect(alone.interval.low).toBeLessThanOrEqual(alone.share + 1e-12);
          expect(alone.interval.high).toBeGreaterThanOrEqual(alone.share - 1e-12);
        },
      ),
      { seed: 3, numRuns: 200 },
    );
  });
  it("do not blame one group when nobody has a case, nor a small group", () => {
    const all = new Uint8Array(200).fill(1);
    const children = makeChildren({ count: 200, team: (i: number) => (i < 10 ? "small" : i < 100 ? "a" : "b") });
    const subject = bookOf(children).subject("anything", all);
    const none = countGroups("team", children.team, new Uint8Array(200), all, subject);
    expect(
      none.map((group) => groupAgainstOthers(group, none, { designEffect: 1, degreesOfFreedom: 199 }).probability),
    ).toEqual([Number.NaN, Number.NaN, 1]);
  });
});

describe("repeats", () => {
  it("counts pairs of equal rows as a plain double loop does", () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.integer({ min: 0, max: 3 }), fc.constantFrom(0.1, 0.2, Number.NaN)), { maxLength: 60 }),
        (rows) => {
          const start = new Int32Array(rows.length);
          const codes = refine(
            refine(
              start,
              rows.map(([a]) => a),
            ),
            rows.map(([, b]) => b),
          );
          let pairs = 0;
          rows.forEach((one, i) => {
            for (const other of rows.slice(i + 1)) if (one[0] === other[0] && Object.is(one[1], other[1])) pairs++;
          });
          expect(pairsOf(codes)).toBe(pairs);
          expect(sizesOf(codes).reduce((sum, size) => sum + size, 0)).toBe(rows.length);
        },
      ),
      { seed: 5 },
    );
  });
  it("counts the pairs of fine codes by coarse code", () => {
    const coarse = Int32Array.of(0, 0, 0, 1, 1, 1, -1);
    const fine = refine(coarse, [5, 5, 6, 7, 7, 7, 7]);
    expect([...pairsWithin(fine, coarse)]).toEqual([1, 3]);
  });
  it("keeps rows that cannot be compared apart", () => {
    expect([...refine(Int32Array.of(0, -1, 0, -1), [1, 1, 1, 1])]).toEqual([0, -1, 0, -1]);
  });
});
