import { describe, expect, it } from "vitest";
import { followedTeams, pooledDifferences } from "../../src/compare/followed-teams.js";
import type { SurveySummary } from "../../src/compare/summary.js";
import { teamBlocks } from "../../src/compare/teams.js";
import type { Reading } from "../../src/results/schema.js";
import { makeCheck, makeQuantity, makeSummary } from "./make-summary.js";

/** A survey whose teams have a reading each, and a difference from their colleagues with a standard error. */
function survey(key: string, teams: Readonly<Record<string, readonly [Reading, number, number]>>): SurveySummary {
  const groups = Object.entries(teams).map(([label, [reading, value, error]]) => ({
    by: "team",
    label,
    n: 100,
    reading,
    quantities: [
      makeQuantity("team-difference-weight-for-height", value, {
        interval: { low: value - 1.959964 * error, high: value + 1.959964 * error, level: 0.95 },
      }),
    ],
  }));
  return makeSummary(key, { checks: [makeCheck("teams-differ", "explain", { groups })] });
}

const surveys = [
  survey("a", { T1: ["expected", 0.1, 0.1], T2: ["explain", 0.3, 0.1], T9: ["doubt", 1, 0.1] }),
  survey("b", { T1: ["explain", -0.1, 0.1], T2: ["doubt", 0.4, 0.2] }),
];

describe("teams followed through surveys", () => {
  it("are those whose code stands in more than one", () => {
    expect(followedTeams(surveys).map(({ team }) => team)).toEqual(["T1", "T2"]);
  });

  it("have their difference averaged with weights of one over the variance", () => {
    const [first, second] = pooledDifferences(followedTeams(surveys));
    expect(first?.value).toBeCloseTo(0, 9);
    // Weights 100 and 25: (100 x 0.3 + 25 x 0.4) / 125 = 0.32, standard error 1 / sqrt(125); worked by hand.
    expect(second?.value).toBeCloseTo(0.32, 6);
    expect(second?.high).toBeCloseTo(0.32 + 1.959964 / Math.sqrt(125), 5);
    // z = 3.578, two-sided 0.000347 (normal table), times two for two teams.
    expect(second?.adjustedProbability).toBeCloseTo(2 * 0.000347, 5);
  });

  it("are named where the same finding came back, with what is clear over all their surveys", () => {
    const [block] = teamBlocks(surveys);
    expect(block?.finding).toMatchObject({
      id: "compare.teams.finding.returning",
      values: { followed: 2, teams: ["T2"], count: 1 },
    });
    expect(block?.meaning.map(({ id }) => id)).toEqual([
      "compare.teams.meaning.returning",
      "compare.teams.meaning.higher",
    ]);
    expect(block?.tables[0]?.rows.map((row) => [row[0], row[3], row[4]])).toEqual([
      ["T2", 2, 2],
      ["T1", 1, 2],
    ]);
  });

  it("a finding in one survey only is not said to come back", () => {
    const once = [surveys[0] as SurveySummary, survey("b", { T2: ["expected", 0, 0.1] })];
    expect(teamBlocks(once)[0]?.finding.id).toBe("compare.teams.finding.single");
  });

  it("where no code comes twice nobody can be followed, and that is not 'as expected'", () => {
    const [block] = teamBlocks([surveys[0] as SurveySummary, survey("b", { X: ["expected", 0, 0.1] })]);
    expect(block?.reading).toBe("unknown");
    expect(block?.finding.id).toBe("compare.teams.finding.none");
  });
});
