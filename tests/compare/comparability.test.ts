import { describe, expect, it } from "vitest";
import { comparabilityOf, restsOnHeight } from "../../src/compare/comparability.js";
import { headlineEstimates } from "../../src/compare/headline.js";
import { pairsOf } from "../../src/compare/pairs.js";
import { monthsApart } from "../../src/compare/season.js";
import type { SurveySummary } from "../../src/compare/summary.js";
import { emptyCell, makeCell, makeEstimate, makeSummary } from "./make-summary.js";
import { makeSettings } from "./settings.js";

const estimates = [
  makeEstimate("wasting", makeCell(0.1, 0.01)),
  makeEstimate("acute-malnutrition-by-arm-circumference", makeCell(0.05, 0.01)),
  makeEstimate("underweight", makeCell(0.2, 0.01)),
];
const first = makeSummary("a", { place: "p", round: "2023", firstDay: "2023-05-02", lastDay: "2023-05-10", estimates });
const second = (given: Parameters<typeof makeSummary>[1] = {}) =>
  makeSummary("b", { place: "p", round: "2024", firstDay: "2024-05-02", lastDay: "2024-05-10", estimates, ...given });

function compared(other: SurveySummary, rule: "fixed" | "around-mean" | null = null) {
  const summaries = [first, other];
  const settings = makeSettings({ rule });
  const found = comparabilityOf(summaries, settings);
  const [pair] = pairsOf(summaries, settings);
  if (pair === undefined) throw new Error("no pair");
  const blocked = (estimate: string): string | undefined => found.blocked(pair, estimate)?.id;
  return { ...found, pair, blockedIds: blocked, notes: found.cautions(pair, "wasting").map(({ id }) => id) };
}

describe("surveys alike", () => {
  it("nothing is blocked, nothing noted, and the table says so", () => {
    const found = compared(second());
    expect(found.estimates).toEqual(["wasting", "acute-malnutrition-by-arm-circumference", "underweight"]);
    expect(found.estimates.map(found.blockedIds)).toEqual([undefined, undefined, undefined]);
    expect(found.notes).toEqual([]);
    expect(found.block.finding.id).toBe("compare.comparability.finding.same");
    expect(found.block.tables[0]?.rows).toHaveLength(9);
  });
});

describe("a survey whose design is not fully known", () => {
  it("is noted with every pair, named in the table and told as a caution", () => {
    const found = compared(second({ definition: { designUnknown: ["no-clusters", "heavy-child"] } }));
    expect(found.notes).toEqual(["compare.comparability.note.design"]);
    expect(found.blockedIds("wasting")).toBeUndefined();
    expect(found.block.cautions.map(({ id }) => id)).toContain("compare.comparability.caution.design");
    const said = JSON.stringify(found.block.tables[0]?.rows);
    expect(said).toContain("design-gap.no-clusters");
    expect(said).toContain("design-gap.heavy-child");
  });
});

describe("what forbids comparing", () => {
  it("another age range, for every estimate", () => {
    const found = compared(second({ definition: { ageFrom: 0 } }));
    for (const id of found.estimates) expect(found.blockedIds(id)).toBe("compare.comparability.blocked.ages");
    expect(found.together("wasting").surveys.map(({ key }) => key)).toEqual(["a"]);
    expect(found.together("wasting").leftOut.map(({ survey }) => survey.key)).toEqual(["b"]);
    expect(found.block.meaning.map(({ id }) => id)).toContain("compare.comparability.not-drawn");
  });

  it("another position rule, where height enters only", () => {
    const found = compared(second({ definition: { positionRule: "length" } }));
    expect(found.estimates.map(found.blockedIds)).toEqual([
      "compare.comparability.blocked.position",
      undefined,
      undefined,
    ]);
    expect(found.together("underweight").surveys).toHaveLength(2);
    const touched = headlineEstimates.filter((id) => !restsOnHeight(id));
    expect(touched).toEqual(["acute-malnutrition-by-arm-circumference", "underweight"]);
  });

  it("an estimate missing, unknown or withheld", () => {
    const other = second({
      estimates: [makeEstimate("wasting", null), makeEstimate("underweight", emptyCell("withheld"))],
    });
    const found = compared(other);
    expect(found.blockedIds("wasting")).toBe("compare.comparability.blocked.lacking");
    expect(found.blockedIds("underweight")).toBe("compare.comparability.blocked.withheld");
    expect(found.blockedIds("acute-malnutrition-by-arm-circumference")).toBe("compare.comparability.blocked.absent");
  });

  it("limits around the mean of another width, where that rule is asked for", () => {
    const around = { exclusionRule: "around-mean", widthAroundMean: 4 };
    expect(compared(second({ definition: around }), "around-mean").blockedIds("wasting")).toBe(
      "compare.comparability.blocked.width",
    );
  });
});

describe("the common exclusion rule", () => {
  it("is the shared one; where they differ, fixed limits, and the block says so", () => {
    expect(compared(second()).rule).toBe("fixed");
    const found = compared(second({ definition: { exclusionRule: "around-mean" } }));
    expect(found.rule).toBe("fixed");
    expect(found.blockedIds("wasting")).toBeUndefined();
    expect(found.block.meaning[0]?.id).toBe("compare.comparability.rule.differs");
    expect(compared(second(), "around-mean").rule).toBe("around-mean");
  });
});

describe("what asks for care", () => {
  it.each([
    ["season", { firstDay: "2024-07-02", lastDay: "2024-07-10" }],
    ["no-dates", { firstDay: null, lastDay: null }],
    ["revisited", { clustersRevisited: true }],
    ["weights", { definition: { weighted: true } }],
    ["population", { population: "another" }],
    ["version", { toolVersion: "2.0.0" }],
    ["few", { estimates: [makeEstimate("wasting", makeCell(0.1, 0.05, { n: 40, status: "marked" }))] }],
  ])("%s", (note, given) => {
    const found = compared(second(given));
    expect(found.notes).toEqual([`compare.comparability.note.${note}`]);
    expect(found.blockedIds("wasting")).toBeUndefined();
  });

  it("each is said once in the block", () => {
    const found = compared(
      second({
        definition: { weighted: true },
        clustersRevisited: true,
        firstDay: "2024-09-02",
        lastDay: "2024-09-20",
      }),
    );
    expect(found.block.cautions.map(({ id }) => id)).toEqual([
      "compare.comparability.caution.season",
      "compare.comparability.caution.revisited",
      "compare.comparability.caution.weights",
    ]);
  });
});

describe("months apart in the year", () => {
  const on = (day: string) => makeSummary(day, { firstDay: day, lastDay: day });
  it.each([
    ["2023-12-20", "2024-01-05", 1],
    ["2022-05-01", "2024-05-30", 0],
    ["2023-01-15", "2024-07-15", 6],
    ["2023-11-15", "2024-02-15", 3],
  ])("%s and %s: %d", (one, two, apart) => expect(monthsApart(on(one), on(two))).toBe(apart));
});
