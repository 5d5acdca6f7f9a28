import { describe, expect, it } from "vitest";
import { checks } from "../../src/checks/index.js";
import { shape } from "../../src/checks/shape/index.js";
import { tooLittle } from "../../src/checks/shared/too-little.js";
import { spread } from "../../src/checks/spread/index.js";
import { teamsDiffer } from "../../src/checks/teams-differ/index.js";
import { type IndexId, indexIds } from "../../src/derive/children.js";
import { randomStream } from "../../src/stats/random.js";
import { resultOf, sentencesOf } from "./check-support.js";
import { type ChildrenGiven, makeChildren } from "./make-children.js";

const allIndices = (of: (row: number) => number) =>
  Object.fromEntries(indexIds.map((index) => [index, of])) as Record<IndexId, (row: number) => number>;

const random = randomStream(11);
const normal = Float64Array.from({ length: 400 }, () => random.normal());
const varied = (row: number): number => normal[row] as number;
const places: Partial<ChildrenGiven> = { cluster: (row) => `C${row % 12}`, team: (row) => `T${row % 3}` };

describe("what z-scores say too little", () => {
  it("tells too few, all equal and too few different values apart, and lets a survey pass", () => {
    const values = (count: number, of: (row: number) => number) =>
      Float64Array.from({ length: count }, (_, i) => of(i));
    expect(tooLittle(values(24, varied), 25)?.id).toBe("checks.unknown.few-children");
    expect(
      tooLittle(
        values(60, () => -1.234567),
        25,
      )?.id,
    ).toBe("checks.unknown.no-variation");
    // Rounding noise makes no new value.
    expect(
      tooLittle(
        values(60, (i) => 0.1 + 0.2 + (i % 3) * 1e-16),
        25,
      )?.id,
    ).toBe("checks.unknown.no-variation");
    expect(
      tooLittle(
        values(60, (i) => i % 9),
        25,
      ),
    ).toMatchObject({
      id: "checks.unknown.few-values",
      values: { n: 60, different: 9 },
    });
    expect(
      tooLittle(
        values(60, (i) => i % 10),
        25,
      ),
    ).toBeNull();
    expect(
      tooLittle(
        values(60, (i) => (i < 20 ? Number.NaN : varied(i))),
        25,
      ),
    ).toBeNull();
  });
});

describe.each([
  ["spread", spread],
  ["shape", shape],
  ["teams-differ", teamsDiffer],
] as const)("%s", (id, check) => {
  const reason = (given: ChildrenGiven) => {
    const result = resultOf(check, makeChildren({ ...places, ...given }));
    expect(result.reading).toBe("unknown");
    expect(sentencesOf(result.reason).length).toBe(1);
    return result.reason?.id;
  };

  it("says which of its needs is not met", () => {
    expect(reason({ count: 20, z: allIndices(varied) })).toBe("checks.unknown.few-children");
    // 60 times -1.3: their mean is off by rounding, and their standard deviation 1e-15 and not 0.
    expect(reason({ count: 60, z: allIndices(() => -1.3) })).toBe("checks.unknown.no-variation");
    expect(reason({ count: 60, z: allIndices((row) => (row % 2 === 0 ? -1.31 : -1.12)) })).toBe(
      "checks.unknown.few-values",
    );
    if (id !== "teams-differ") {
      expect(reason({ count: 300, z: allIndices(varied), cluster: () => "C1" })).toBe("checks.unknown.one-cluster");
    }
  });
});

describe("teams", () => {
  const reason = (given: Partial<ChildrenGiven>) =>
    resultOf(teamsDiffer, makeChildren({ count: 300, z: allIndices(varied), ...given })).reason?.id;

  it("are too few, too small, or worked in too few clusters", () => {
    expect(reason({ team: () => "T1", cluster: (row) => `C${row % 12}` })).toBe("checks.teams-differ.unknown.one-team");
    expect(reason({ team: (row) => `T${row % 20}`, cluster: (row) => `C${row % 40}` })).toBe(
      "checks.teams-differ.unknown.small-teams",
    );
    expect(reason({ team: (row) => `T${row % 3}`, cluster: (row) => `C${row % 3}` })).toBe(
      "checks.teams-differ.unknown.few-clusters",
    );
  });
});

describe("spread over strata", () => {
  it("says that each stratum holds one cluster", () => {
    const code = (row: number) => `${row % 3}`;
    const result = resultOf(spread, makeChildren({ count: 300, z: allIndices(varied), cluster: code, stratum: code }));
    expect(result.reason).toMatchObject({ id: "checks.unknown.one-cluster-each", values: { strata: 3 } });
  });
});

describe("no child of the survey's ages", () => {
  it.each(checks.map((check) => [check.id, check] as const))("%s says so", (_, check) => {
    const result = resultOf(check, makeChildren({ count: 0, ...places }));
    expect([result.reading, result.reason?.id]).toEqual(["unknown", "checks.unknown.no-children"]);
  });
});
