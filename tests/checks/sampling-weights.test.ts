import { describe, expect, it } from "vitest";
import { runCheck } from "../../src/checks/run.js";
import { samplingWeights } from "../../src/checks/sampling-weights/index.js";
import type { Children } from "../../src/derive/children.js";
import { weightsShown } from "../../src/derive/weights-shown.js";
import { checkResultSchema } from "../../src/results/schema.js";
import type { SurveySettings } from "../../src/settings/settings.js";
import { randomStream } from "../../src/stats/random.js";
import { expectComplete, sentencesOf } from "./check-support.js";
import { cleanSurvey } from "./clean-survey.js";
import { type ChildrenGiven, makeChildren, makeSettings } from "./make-children.js";

const columns = { "sampling-weight": "wt" };

function run(children: Children, settings: Partial<SurveySettings> = {}) {
  const { result, rows } = runCheck(samplingWeights, children, makeSettings({ columns, ...settings }));
  expectComplete(checkResultSchema.parse(result));
  const value = (id: string) => result.quantities.find((quantity) => quantity.id === id)?.value ?? Number.NaN;
  return { ...result, rows, value, variant: result.finding.id.split(".").at(-1) };
}

const weighted = (samplingWeight: ChildrenGiven["samplingWeight"], count = 600) =>
  makeChildren({ count, cluster: (i) => `C${i % 30}`, samplingWeight: samplingWeight ?? null });

describe("Kish's effective number", () => {
  it("of a worked example: 42 children of weight 1 and 40 of 2.5", () => {
    // A worked fixture (not published): 82 children, design effect of weights n sum w^2 / (sum w)^2 = 1.18746.
    const children = makeChildren({ count: 82, samplingWeight: (i) => (i < 42 ? 1 : 2.5) });
    const shown = weightsShown(children);
    expect(82 / (shown?.effective ?? 0)).toBeCloseTo(1.18746, 5);
    // By hand: (42 + 100)^2 / (42 + 250) = 69.0548.
    expect(run(children).value("effective-number")).toBeCloseTo(142 ** 2 / 292, 10);
  });

  it("is 1 + cv^2 times fewer than the children (Kish 1965, from memory), whatever the weights' unit", () => {
    const random = randomStream(3);
    const weights = Float64Array.from({ length: 500 }, () => Math.exp(0.5 * random.normal()));
    const mean = weights.reduce((sum, w) => sum + w, 0) / 500;
    const variance = weights.reduce((sum, w) => sum + (w - mean) ** 2, 0) / 500;
    const shown = weightsShown({ count: 500, samplingWeight: weights });
    expect(shown?.effective).toBeCloseTo(500 / (1 + variance / mean ** 2), 8);
    const scaled = weightsShown({ count: 500, samplingWeight: weights.map((w) => w * 1e200) });
    expect(scaled?.effective).toBeCloseTo(shown?.effective ?? 0, 6);
  });
});

describe("sampling-weights", () => {
  it("doubts one weight of 5,000 among ones, and lists the child for the team only", () => {
    const result = run(weighted((i) => (i === 17 ? 5000 : 1)));
    expect([result.reading, result.variant]).toEqual(["doubt", "heavy"]);
    expect(result.value("heaviest-child-share")).toBeCloseTo(5000 / 5599, 10);
    expect(result.rows).toMatchObject([{ sheetRow: 19, columns: ["wt"] }]);
    expect(result.rowsToCheck).toBe(1);
    const { rows: _, value: __, variant: ___, ...told } = result;
    expect(JSON.stringify(told)).not.toContain("sheetRow");
    expect(sentencesOf(told).join(" ")).not.toMatch(/row 19|C17/);
  });

  it.each([
    [5, "expected"],
    [9, "expected"],
    [10.5, "explain"],
    [31, "explain"],
    [40, "doubt"],
  ])("one child of %d times the weight of 599 others: %s", (weight, reading) => {
    expect(run(weighted((i) => (i === 0 ? weight : 1))).reading).toBe(reading);
  });

  it("does not call a child heavy in a small survey of like weights", () => {
    expect(run(weighted((i) => 1 + (i % 2), 30)).reading).toBe("expected");
  });

  it("reads weights that leave less than half, or a fifth, of the children", () => {
    // Half of the children with all but nothing of the weight leave half: just below asks, far below doubts.
    expect(run(weighted((i) => (i % 100 < 45 ? 1 : 1e-3))).variant).toBe("uneven");
    expect(run(weighted((i) => (i % 100 < 45 ? 1 : 1e-3))).reading).toBe("explain");
    expect(run(weighted((i) => (i % 100 < 55 ? 1 : 1e-3))).reading).toBe("expected");
    expect(run(weighted((i) => (i % 100 < 15 ? 1 : 1e-3))).reading).toBe("doubt");
  });

  it("says that weights are all the same, and that children have none", () => {
    expect(run(weighted(() => 7.25))).toMatchObject({ reading: "expected", variant: "constant" });
    const gaps = run(weighted((i) => (i % 10 === 0 ? Number.NaN : 1)));
    expect(gaps).toMatchObject({ reading: "explain", variant: "without" });
    expect(gaps.value("children-without-weight")).toBe(60);
    expect(run(weighted((i) => (i % 3 === 0 ? 0 : 1))).reading).toBe("doubt");
    expect(run(weighted(() => 0))).toMatchObject({ reading: "unknown" });
    expect(run(weighted(() => 1, 24))).toMatchObject({ reading: "unknown" });
  });

  describe("without weights", () => {
    const strata: Partial<ChildrenGiven> = { cluster: (i) => `C${i % 30}`, stratum: (i) => `S${i % 2}` };
    const none = (given: Partial<ChildrenGiven>, settings: Partial<SurveySettings> = {}) =>
      run(makeChildren({ count: 600, ...given }), settings);

    it("is as expected where there are no strata, or where the survey says so", () => {
      expect(none({})).toMatchObject({ reading: "expected", variant: "none-one-stratum" });
      const equal = { sampling: { chances: "equal" } } as const;
      expect(none(strata, equal)).toMatchObject({ reading: "expected", variant: "none-stated" });
      const alike = { clustersInPopulation: { S0: 100, S1: 110 } };
      expect(none(strata, alike)).toMatchObject({ reading: "expected", variant: "none-alike" });
    });

    it("cannot tell in strata whose chances are not known, or are known to differ", () => {
      expect(none(strata).reason?.id).toBe("checks.sampling-weights.unknown.strata");
      const unlike = { clustersInPopulation: { S0: 100, S1: 400 } };
      expect(none(strata, unlike).reason?.id).toBe("checks.sampling-weights.unknown.unlike");
      const unequal = { sampling: { chances: "unequal" } } as const;
      expect(none(strata, unequal)).toMatchObject({ reading: "unknown" });
    });
  });

  it("has no rows where weights were made from the population's numbers", () => {
    expect(
      run(
        weighted((i) => (i === 17 ? 5000 : 1)),
        { columns: {} },
      ).rows,
    ).toEqual([]);
  });
});

describe("surveys without faults", () => {
  it("of ordinary weights are never doubted", () => {
    // 200 surveys, seeds 1 to 200: 3 to 8 strata with weights log-normal around 1 (cv up to 0.63), and a factor of a household's
    // size within each.
    for (let seed = 1; seed <= 200; seed++) {
      const random = randomStream(seed);
      const strata = 3 + (seed % 6);
      const ofStratum = Array.from({ length: strata }, () => Math.exp((0.2 + 0.1 * (seed % 4)) * random.normal()));
      const children = cleanSurvey({ seed, clusters: 20 + (seed % 30) });
      const samplingWeight = Float64Array.from(
        { length: children.count },
        (_, i) => (ofStratum[i % strata] as number) * (1 + 0.25 * random.below(4)),
      );
      expect(["expected"]).toContain(run({ ...children, samplingWeight }).reading);
    }
  });
});
