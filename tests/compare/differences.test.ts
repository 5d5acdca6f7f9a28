import { describe, expect, it } from "vitest";
import { comparabilityOf } from "../../src/compare/comparability.js";
import { differencesOf, verdictOf } from "../../src/compare/differences.js";
import { pairsOf } from "../../src/compare/pairs.js";
import type { SurveySummary } from "../../src/compare/summary.js";
import type { EstimateCell } from "../../src/results/schema.js";
import { emptyCell, makeCell, makeEstimate, makeSummary } from "./make-summary.js";
import { makeSettings } from "./settings.js";

function differences(summaries: readonly SurveySummary[]) {
  const settings = makeSettings();
  return differencesOf(pairsOf(summaries, settings), summaries, comparabilityOf(summaries, settings));
}

function rounds(...cells: readonly EstimateCell[]) {
  return cells.map((cell, i) =>
    makeSummary(`r${i}`, {
      place: "p",
      round: `${2020 + i}`,
      firstDay: `${2020 + i}-05-02`,
      lastDay: `${2020 + i}-05-12`,
      estimates: [makeEstimate("wasting", cell)],
    }),
  );
}

const simple = (cases: number, n: number, deff = 1): EstimateCell => {
  const p = cases / n;
  // Degrees of freedom so many that t is normal, as in the published example.
  return makeCell(p, Math.sqrt((deff * p * (1 - p)) / n), { n, clusters: null, degreesOfFreedom: 1e9 });
};

describe("the published example of overlapping intervals", () => {
  // Schenker and Gentleman, Am Stat 2001;55:182-6: 112 of 200 against 88 of 200.
  const [first, second] = [simple(88, 200), simple(112, 200)];
  const [found] = differences(rounds(first, second));

  it("the intervals overlap, 0.371 to 0.509 and 0.491 to 0.629", () => {
    expect(first.interval?.low).toBeCloseTo(0.371, 3);
    expect(first.interval?.high).toBeCloseTo(0.509, 3);
    expect(second.interval?.low).toBeCloseTo(0.491, 3);
    expect(second.interval?.high).toBeCloseTo(0.629, 3);
  });

  it("yet the difference is clear: z = 2.417, p = 0.0156", () => {
    expect(found?.difference).toBeCloseTo(0.12, 12);
    expect((found?.difference ?? 0) / (found?.standardError ?? 1)).toBeCloseTo(2.417, 3);
    expect(found?.probability).toBeCloseTo(0.0156, 4);
    expect(found?.verdict).toBe("rise");
    expect(found?.interval?.low).toBeGreaterThan(0);
  });
});

describe("a made example worked by hand", () => {
  // 14.5% of 620 with design effect 1.5 against 10.8% of 600 with 1.4: standard errors 0.01732 and 0.01499, difference 0.037
  // with 0.02291, z 1.615, p 0.106.
  const share = (p: number, n: number, deff: number) => simple(p * n, n, deff);
  const [found] = differences(rounds(share(0.145, 620, 1.5), share(0.108, 600, 1.4)));

  it("is no clear change, and keeps its interval", () => {
    expect(found?.difference).toBeCloseTo(-0.037, 12);
    expect(found?.standardError).toBeCloseTo(0.02291, 5);
    expect(found?.probability).toBeCloseTo(0.106, 3);
    expect(found?.verdict).toBe("no-clear-change");
    expect(found?.interval?.low).toBeCloseTo(-0.037 - 1.96 * 0.02291, 4);
    expect(found?.interval?.high).toBeCloseTo(-0.037 + 1.96 * 0.02291, 4);
  });
});

describe("many comparisons", () => {
  it("probabilities are adjusted within a question and an estimate", () => {
    // Against the first: z of 2.2 and below beside eleven other places without a difference.
    const place = (i: number) =>
      makeSummary(`p${i}`, {
        estimates: [makeEstimate("wasting", makeCell(i === 0 ? 0.131 : 0.1, 0.01, { degreesOfFreedom: 1e6 }))],
      });
    const found = differences(Array.from({ length: 12 }, (_, i) => place(i)));
    expect(found).toHaveLength(66);
    const against = found.filter(({ pair }) => pair.startsWith("p0.."));
    expect(against.map(({ verdict }) => verdict)).toEqual(new Array(11).fill("no-clear-change"));
    // P(|Z| >= 0.031 / (0.01 sqrt 2)) = 0.0284; adjusted 0.0284 * 66 / 11.
    for (const { probability, adjustedProbability } of against) {
      expect(probability).toBeCloseTo(0.02838, 4);
      expect(adjustedProbability).toBeCloseTo(0.1703, 3);
    }
  });

  it("a lone comparison is not adjusted, and another question does not count with it", () => {
    const [one] = differences(rounds(makeCell(0.1, 0.01), makeCell(0.131, 0.01)));
    expect(one?.adjustedProbability).toBe(one?.probability);
  });
});

describe("what cannot be told says why and has no probability", () => {
  const good = makeCell(0.1, 0.01);
  it.each([
    ["compare.change.reason.no-spread", makeCell(0, 0)],
    [
      "compare.change.reason.few-clusters",
      makeCell(0.1, 0.01, { clusters: 1, standardError: null, degreesOfFreedom: 0 }),
    ],
    ["compare.change.reason.few-children", makeCell(0.1, 0.05, { n: 24, status: "marked" })],
    ["compare.change.reason.no-error", makeCell(0.1, 0.01, { standardError: null, interval: null })],
    ["compare.change.reason.no-error", makeCell(0.1, 0.01, { degreesOfFreedom: 0 })],
    ["compare.comparability.blocked.withheld", emptyCell("withheld")],
    ["compare.comparability.blocked.missing", emptyCell("unknown")],
  ])("%s", (reason, cell) => {
    for (const cells of [
      [good, cell],
      [cell, good],
    ]) {
      const [found] = differences(rounds(...cells));
      expect(found?.verdict).toBe("cannot-tell");
      expect(found?.reason?.id).toBe(reason);
      expect([found?.probability, found?.adjustedProbability, found?.interval]).toEqual([null, null, null]);
    }
  });
});

describe("verdicts", () => {
  it.each([
    [0.1, 0.049, "rise"],
    [-0.1, 0.049, "fall"],
    [0.1, 0.05, "no-clear-change"],
    [0.1, Number.NaN, "cannot-tell"],
  ] as const)("%d at %d: %s", (difference, adjusted, verdict) => expect(verdictOf(difference, adjusted)).toBe(verdict));
});

describe("the common rule", () => {
  it("both sides are taken under it", () => {
    const [first, second] = [0, 1].map((i) =>
      makeSummary(`r${i}`, {
        place: "p",
        round: `${i}`,
        firstDay: `202${i}-05-02`,
        definition: { exclusionRule: i === 0 ? "fixed" : "around-mean" },
        estimates: [makeEstimate("wasting", makeCell(0.1, 0.01), { byExclusion: { fixed: makeCell(0.12, 0.011) } })],
      }),
    ) as [SurveySummary, SurveySummary];
    const [found] = differences([first, second]);
    // The first survey's own rule is fixed: its overall cell; the second's cell under fixed limits.
    expect([found?.rule, found?.first, found?.second]).toEqual(["fixed", 0.1, 0.12]);
  });
});
