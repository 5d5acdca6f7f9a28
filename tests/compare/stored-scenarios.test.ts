import { describe, expect, it } from "vitest";
import type { PairedParts } from "../../src/compare/paired.js";
import { storedScenarios } from "../../src/compare/stored-scenarios.js";
import type { Difference, Pair, PairedScenario } from "../../src/results/comparison.js";
import { message } from "../../src/results/message.js";
import { makeCell, makeEstimate, makeSummary } from "./make-summary.js";

/** Five pairs, each weaker than the one before; each has three scenarios, of which the second changes the answer. */
const pairs = Array.from(
  { length: 5 },
  (_, i): Pair => ({ id: `a${i}..b${i}`, question: "rounds", first: `a${i}`, second: `b${i}` }),
);
const summaries = pairs.flatMap(({ first, second }) =>
  [first, second].map((key) => makeSummary(key, { estimates: [makeEstimate("wasting", makeCell(0.1, 0.01))] })),
);
const differences = pairs.map(
  ({ id }, i): Difference => ({
    pair: id,
    estimate: "wasting",
    rule: "fixed",
    first: 0.1,
    second: 0.2 - i / 100,
    difference: 0.1 - i / 100,
    standardError: 0.01,
    degreesOfFreedom: 50,
    interval: null,
    probability: 0.001,
    adjustedProbability: 0.001,
    verdict: "rise",
    cautions: [],
    paired: { total: 3, stands: 2, movers: ["two"] },
  }),
);
const scenarios = pairs.flatMap(({ id }) =>
  ["one", "two", "three"].map(
    (scenario): PairedScenario => ({
      pair: id,
      estimate: "wasting",
      scenario,
      label: message("scenario.exclusions.none"),
      kind: "estimate",
      difference: 0.1,
      interval: null,
      verdict: scenario === "two" ? "no-clear-change" : "rise",
    }),
  ),
);
const parts: PairedParts = { summaries, pairs, differences, scenarios };

function countByPair(kept: readonly PairedScenario[]): number[] {
  return pairs.map(({ id }) => kept.filter(({ pair }) => pair === id).length);
}

describe("the paired scenarios that are stored", () => {
  it("are all of them while they are few", () => {
    expect(storedScenarios(parts, { pairs: null })).toEqual(scenarios);
    expect(storedScenarios(parts, { pairs: null }, 15)).toEqual(scenarios);
  });

  it("are else those of the pairs pictured, and of the others what changes the answer", () => {
    const kept = storedScenarios(parts, { pairs: null }, 14);
    expect(countByPair(kept)).toEqual([3, 3, 3, 1, 1]);
    expect(kept.slice(-2).map(({ scenario }) => scenario)).toEqual(["two", "two"]);
  });

  it("are all of a pair that the settings name, in either order", () => {
    expect(countByPair(storedScenarios(parts, { pairs: [{ first: "b4", second: "a4" }] }, 14))).toEqual([
      3, 3, 3, 1, 3,
    ]);
  });
});
