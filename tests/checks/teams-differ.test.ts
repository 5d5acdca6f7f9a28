import { describe, expect, it } from "vitest";
import { teamsDiffer } from "../../src/checks/teams-differ/index.js";
import type { Children, IndexId } from "../../src/derive/children.js";
import { expectComplete, itHolds, resultOf } from "./check-support.js";
import { cleanSurvey } from "./clean-survey.js";
import { exampleChildren } from "./example-children.js";
import { codedColumn } from "./make-children.js";

itHolds(teamsDiffer);

/** The survey with something added to an index of one team's children. */
function moved(children: Children, index: IndexId, team: number, by: (child: number) => number): Children {
  const column = children.indices[index];
  const z = column.z.map((value, child) => (children.team?.codes[child] === team ? value + by(child) : value));
  return { ...children, indices: { ...children.indices, [index]: { ...column, z } } };
}

const noticed = (result: ReturnType<typeof resultOf>) =>
  result.groups.filter(({ reading }) => reading === "explain" || reading === "doubt").map(({ label }) => label);

describe("teams-differ", () => {
  it("names the team whose board reads short", () => {
    const result = resultOf(
      teamsDiffer,
      moved(cleanSurvey({ seed: 51 }), "height-for-age", 4, () => -0.9),
    );
    expect(noticed(result)).toEqual(["T5"]);
    expect(result.finding.id).toBe("checks.teams-differ.finding.level");
    expect(result.finding.values.direction).toBe("lower");
    const difference = result.groups
      .find(({ label }) => label === "T5")
      ?.quantities.find(({ id }) => id === "team-difference-height-for-age");
    expect(difference?.interval?.low).toBeLessThan(-0.9);
    expect(difference?.interval?.high).toBeGreaterThan(-0.9);
    expectComplete(result);
  });

  it("finds a drift of weight, names its team and size, and sees none in height", () => {
    const base = cleanSurvey({ seed: 52 });
    const days = base.interviewDay as Float64Array;
    const result = resultOf(
      teamsDiffer,
      moved(base, "weight-for-height", 2, (child) => 0.1 * ((days[child] as number) - 19800)),
    );
    expect(noticed(result)).toEqual(["T3"]);
    expect(result.finding.id).toBe("checks.teams-differ.finding.drift");
    expect(result.finding.values).toMatchObject({ measure: "weight", direction: "up" });
    expect(result.meaning.map(({ id }) => id)).toContain("checks.teams-differ.meaning.other-steady");
    expectComplete(result);
  });

  it("finds the invented survey's drifting scale in most seeds, and seldom names another team", () => {
    let found = 0;
    let other = 0;
    for (let seed = 100; seed < 140; seed++) {
      const teams = noticed(
        resultOf(teamsDiffer, exampleChildren(seed, { scaleDrift: { team: "T2", kilogramsPerDay: 0.09 } })),
      );
      if (teams.includes("T2")) found++;
      if (teams.some((team) => team !== "T2")) other++;
    }
    expect(found).toBeGreaterThanOrEqual(32);
    expect(other).toBeLessThanOrEqual(4);
  });

  it("a real difference between areas is no difference between teams that share them", () => {
    const base = cleanSurvey({ seed: 53 });
    const column = base.indices["weight-for-height"];
    const z = column.z.map((value, child) => value + (base.area?.codes[child] === 0 ? 1 : 0));
    const result = resultOf(teamsDiffer, {
      ...base,
      indices: { ...base.indices, "weight-for-height": { ...column, z } },
    });
    expect(result.reading).toBe("expected");
  });

  it("teams that are areas: a difference is read and said to be wholly confounded", () => {
    const base = cleanSurvey({ seed: 54 });
    const area = codedColumn("area", (row) => `A${base.team?.codes[row]}`, base.count);
    const result = resultOf(teamsDiffer, { ...moved(base, "weight-for-height", 0, () => 0.9), area });
    expect(noticed(result)).toEqual(["T1"]);
    // A difference between teams is one between places too: never more than that.
    expect(result.reading).toBe("explain");
    expect(result.meaning.map(({ id }) => id)).toContain("checks.teams-differ.meaning.wholly-confounded");
    expectComplete(result);
  });

  it("without days the trends are left out and that is said", () => {
    const result = resultOf(teamsDiffer, { ...cleanSurvey({ seed: 55 }), interviewDay: null });
    expect(result.charts.map(({ id }) => id)).toEqual(["teams-differ"]);
    expect(result.meaning.map(({ id }) => id)).toContain("checks.teams-differ.meaning.no-days");
    expectComplete(result);
  });

  it("one team: cannot tell", () => {
    const base = cleanSurvey({ seed: 56, teams: 1 });
    const result = resultOf(teamsDiffer, base);
    expect(result.reading).toBe("unknown");
    expect(result.reason?.id).toBe("checks.teams-differ.unknown.one-team");
  });
});
