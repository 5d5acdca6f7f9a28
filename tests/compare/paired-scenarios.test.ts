import { describe, expect, it } from "vitest";
import { notPairable, pairedScenariosOf, withPaired } from "../../src/compare/paired-scenarios.js";
import type { SurveySummary } from "../../src/compare/summary.js";
import type { Difference, Pair } from "../../src/results/comparison.js";
import { message } from "../../src/results/message.js";
import { compareIndependent } from "../../src/stats/design/difference.js";
import { makeCell, makeEstimate, makeScenario, makeSummary } from "./make-summary.js";

type Scenarios = SurveySummary["scenarios"];
const survey = (key: string, value: number, scenarios: Scenarios, standardError = 0.01): SurveySummary =>
  makeSummary(key, { estimates: [makeEstimate("wasting", makeCell(value, standardError))], scenarios });

/** The difference of two surveys' published estimates, judged as if it were the only one. */
function published(first: SurveySummary, second: SurveySummary): Difference {
  const independent = (one: SurveySummary) => {
    const cell = one.estimates.get("wasting")?.overall;
    return {
      estimate: cell?.value ?? Number.NaN,
      variance: (cell?.standardError ?? Number.NaN) ** 2,
      degreesOfFreedom: cell?.degreesOfFreedom ?? Number.NaN,
    };
  };
  const found = compareIndependent(independent(second), independent(first));
  const clear = found.probability <= 0.05;
  return {
    pair: `${first.key}..${second.key}`,
    estimate: "wasting",
    rule: "fixed",
    first: independent(first).estimate,
    second: independent(second).estimate,
    difference: found.difference,
    standardError: found.standardError,
    degreesOfFreedom: found.degreesOfFreedom,
    interval: { low: found.low, high: found.high, level: 0.95 },
    probability: found.probability,
    adjustedProbability: found.probability,
    verdict: clear ? (found.difference > 0 ? "rise" : "fall") : "no-clear-change",
    cautions: [],
  };
}

function run(first: SurveySummary, second: SurveySummary) {
  const pair: Pair = { id: `${first.key}..${second.key}`, question: "rounds", first: first.key, second: second.key };
  const difference = published(first, second);
  const scenarios = pairedScenariosOf([pair], [first, second], [difference]);
  const by = new Map(scenarios.map((one) => [one.scenario, one]));
  return { difference, scenarios, by, paired: withPaired([difference], scenarios)[0]?.paired };
}

describe("scenarios that mean the same in both surveys", () => {
  const first = survey("a", 0.1, [
    makeScenario("exclusions/none", { wasting: [0.11, 0.01] }),
    makeScenario("spread/normal", {}, { kind: "sensitivity", reason: message("scenario.spread.no-excess") }),
  ]);
  const second = survey("b", 0.15, [
    makeScenario("exclusions/none", { wasting: [0.16, 0.01] }),
    makeScenario("digits/weight", { wasting: [0.12, 0.01] }),
    makeScenario("spread/normal", { wasting: [0.11, 0.01] }, { kind: "sensitivity" }),
  ]);
  const { difference, by, paired } = run(first, second);

  it("are applied to both: second minus first, variances added", () => {
    expect(difference.verdict).toBe("rise");
    const none = by.get("exclusions/none");
    expect(none?.difference).toBeCloseTo(0.05, 12);
    expect(none?.verdict).toBe("rise");
    const half = ((none?.interval?.high ?? 0) - (none?.interval?.low ?? 0)) / 2;
    // t quantile at 58 degrees of freedom (two equal variances on 29 each) is 2.0017, from any t table.
    expect(half / Math.hypot(0.01, 0.01)).toBeCloseTo(2.0017, 3);
  });

  it("leave a survey as published where it lists nothing to change, and can take a difference away", () => {
    expect(by.get("digits/weight")?.difference).toBeCloseTo(0.02, 12);
    expect(by.get("digits/weight")?.verdict).toBe("no-clear-change");
  });

  it("take absent excess spread as nothing to take off, and do not count the contested line", () => {
    expect(by.get("spread/normal")?.difference).toBeCloseTo(0.01, 12);
    expect(paired).toEqual({ total: 2, stands: 1, movers: ["digits/weight"], repaired: null });
  });
});

describe("what cannot be paired is never counted as standing", () => {
  it("a scenario that failed in one survey carries its reason", () => {
    const reason = message("consequence.reason.failed", { error: "x" });
    const { by, paired } = run(
      survey("a", 0.1, [
        makeScenario("ages/heaped", {}, { reason }),
        makeScenario("weights/off", { wasting: [0.1, 0.01] }),
      ]),
      survey("b", 0.15, [makeScenario("ages/heaped", { wasting: [0.11, 0.01] })]),
    );
    expect(by.get("ages/heaped")).toMatchObject({ verdict: "cannot-tell", difference: null, reason });
    // Weights off changes neither estimate, so that it would only swell the number.
    expect(by.has("weights/off")).toBe(false);
    expect(paired).toBeUndefined();
  });

  it("an outcome without a standard error has no verdict", () => {
    const { by } = run(
      survey("a", 0.1, [makeScenario("weights/off", { wasting: [0.09, null] })]),
      survey("b", 0.15, [makeScenario("weights/off", { wasting: [0.15, 0.01] })]),
    );
    expect(by.get("weights/off")?.verdict).toBe("cannot-tell");
    expect(by.get("weights/off")?.reason?.id).toBe("compare.paired.reason.no-error");
  });

  it("surveys without scenarios, or with scenarios under another rule than the comparison's", () => {
    const some = [makeScenario("weights/off", { wasting: [0.1, 0.01] })];
    const [a, b] = [survey("a", 0.1, some), survey("b", 0.15, [])];
    expect(notPairable(a, b, "fixed")?.id).toBe("compare.paired.reason.no-scenarios");
    expect(notPairable(a, a, "none")?.id).toBe("compare.paired.reason.rules");
    expect(notPairable(a, a, "fixed")).toBeNull();
    expect(run(a, b).scenarios).toEqual([]);
  });
});

describe("parts left out of both surveys", () => {
  const team = (id: string, value: number) => makeScenario(`leave-out-team/${id}`, { wasting: [value, 0.011] });
  const first = survey("a", 0.1, [team("T1", 0.104), team("T2", 0.099), team("T3", 0.09)]);
  const second = survey("b", 0.15, [team("T1", 0.149), team("T2", 0.12), team("T4", 0.155)]);
  const { by } = run(first, second);

  it("the one that moves each most, whichever way", () => {
    expect(by.get("team/in-each")?.difference).toBeCloseTo(0.12 - 0.09, 12);
  });

  it("those whose absence brings the two closest: a bound", () => {
    expect(by.get("team/closest")?.difference).toBeCloseTo(0.12 - 0.104, 12);
    expect(by.get("team/closest")?.kind).toBe("bound");
  });

  it("the same team where both name it", () => {
    expect(by.get("same-team/T2")?.difference).toBeCloseTo(0.12 - 0.099, 12);
    expect([...by.keys()].filter((id) => id.startsWith("same-team/")).sort()).toEqual(["same-team/T1", "same-team/T2"]);
  });

  it("a survey without teams cannot be paired that way", () => {
    const { by: other } = run(first, survey("b", 0.15, [makeScenario("weights/off", { wasting: [0.14, 0.01] })]));
    expect(other.get("team/in-each")?.reason?.id).toBe("compare.paired.reason.no-team");
  });
});

describe("missing children set against the difference", () => {
  it("all are cases where the estimate is lower, none where it is higher", () => {
    const bounds = (all: number, none: number) => [
      makeScenario("missing/all-cases", { wasting: [all, 0.01] }, { kind: "bound" }),
      makeScenario("missing/none-a-case", { wasting: [none, 0.01] }, { kind: "bound" }),
    ];
    const low = survey("a", 0.1, bounds(0.13, 0.098));
    const high = survey("b", 0.15, bounds(0.18, 0.147));
    expect(run(low, high).by.get("missing/closest")?.difference).toBeCloseTo(0.147 - 0.13, 12);
    expect(run(high, low).by.get("missing/closest")?.difference).toBeCloseTo(0.13 - 0.147, 12);
  });
});
