import { describe, expect, it } from "vitest";
import { surveyName } from "../../src/compare/cells.js";
import { comparabilityOf } from "../../src/compare/comparability.js";
import { overviewOf } from "../../src/compare/overview.js";
import type { SurveySummary } from "../../src/compare/summary.js";
import { blockSchema, type Difference, type Verdict } from "../../src/results/comparison.js";
import type { Chart } from "../../src/results/schema.js";
import { emptyCell, makeCell, makeEstimate, makeSummary } from "./make-summary.js";

const settings = { tiles: null, estimates: null };
const comparabilityFor = (surveys: readonly SurveySummary[], rule: string | null = null) =>
  comparabilityOf(surveys, { rule, estimates: null, pairs: null, seasonNote: null });

/** The overview of surveys whose comparability is found from themselves. */
function overview(
  surveys: readonly SurveySummary[],
  differences: readonly Difference[] = [],
  given: Partial<Parameters<typeof overviewOf>[2]> = {},
) {
  return overviewOf(surveys, differences, { ...settings, ...given }, comparabilityFor(surveys));
}

/** A survey with wasting alone. */
function survey(place: string, round: number, value: number | null, group: string | null = null): SurveySummary {
  const cell = value === null ? emptyCell("withheld") : makeCell(value, 0.01);
  return makeSummary(`${place}-${round}`, {
    place,
    group,
    round: `round ${round}`,
    firstDay: `202${round}-05-06`,
    estimates: [makeEstimate("wasting", cell)],
  });
}

function step(place: string, from: number, to: number, difference: number, verdict: Verdict): Difference {
  return {
    pair: `${place}-${from}..${place}-${to}`,
    estimate: "wasting",
    rule: "fixed",
    first: 0.1,
    second: 0.1 + difference,
    difference,
    standardError: 0.01,
    degreesOfFreedom: 58,
    interval: null,
    probability: null,
    adjustedProbability: null,
    verdict,
    cautions: [],
  };
}

const summaries = [
  survey("Ombrel", 1, 0.1),
  survey("Tazvin", 2, 0.15),
  survey("Ombrel", 2, 0.11),
  survey("Tazvin", 1, 0.1),
  survey("Sorrin", 1, 0.12),
  survey("Sorrin", 2, 0.04),
  survey("Auble", 1, 0.09),
];
const differences = [
  step("Ombrel", 1, 2, 0.01, "no-clear-change"),
  step("Tazvin", 1, 2, 0.05, "rise"),
  step("Sorrin", 1, 2, -0.08, "fall"),
];

type Tiles = Extract<Chart, { kind: "tiles" }>;
const tilesOf = (blocks: ReturnType<typeof overviewOf>): Tiles["tiles"] =>
  (blocks.flatMap(({ charts }) => charts)[0] as Tiles).tiles;
const placesOf = (blocks: ReturnType<typeof overviewOf>): string[] =>
  tilesOf(blocks).map(({ label, row, column }) => `${row} ${column} ${label}`);
const ids = (blocks: ReturnType<typeof overviewOf>): string[] =>
  [...(blocks[0]?.meaning ?? []), ...(blocks[0]?.cautions ?? [])].map(({ id }) => id.replace("compare.overview.", ""));

describe("the overview", () => {
  const blocks = overview(summaries, differences);

  it("is one block for each estimate that two places have, and fits the schema", () => {
    expect(blocks.map((block) => block.id)).toEqual(["overview-wasting"]);
    expect(blockSchema.safeParse(blocks[0]).error).toBeUndefined();
    expect(overview(summaries.slice(0, 1), [])).toEqual([]);
    expect(overview(summaries, differences, { estimates: ["stunting"] })).toEqual([]);
  });

  it("counts clear rises and falls of the last step among the places with more than one round", () => {
    expect(blocks[0]?.finding).toMatchObject({
      id: "compare.overview.finding.changes",
      values: { places: 3, rose: 1, fell: 1, unclear: 1, untold: 0 },
    });
  });

  it("puts the strongest mover first, a fall as well as a rise, and the others by name", () => {
    expect(placesOf(blocks)).toEqual(["0 0 Sorrin", "0 1 Tazvin", "0 2 Auble", "0 3 Ombrel"]);
    expect(tilesOf(blocks).map((tile) => tile.verdict)).toEqual(["fall", "rise", null, "no-clear-change"]);
  });

  it("sets the rounds of a place in the order of their days, whatever the order of the files", () => {
    expect(
      tilesOf(blocks)
        .find(({ label }) => label === "Tazvin")
        ?.points.map(({ value }) => value),
    ).toEqual([0.1, 0.15]);
  });

  it("cannot tell of a step without a difference, and does not count it as unclear", () => {
    const some = overview(summaries, differences.slice(0, 2));
    expect(tilesOf(some).find(({ label }) => label === "Sorrin")?.verdict).toBe("cannot-tell");
    expect(some[0]?.finding.values).toMatchObject({ fell: 0, unclear: 1, untold: 1 });
  });

  it("reads the last step alone: a rise before it is not one now", () => {
    const more = [...summaries, survey("Tazvin", 3, 0.151)];
    const steps = [...differences, step("Tazvin", 2, 3, 0.001, "no-clear-change"), step("Tazvin", 1, 3, 0.051, "rise")];
    expect(overview(more, steps)[0]?.finding.values).toMatchObject({ rose: 0, unclear: 2 });
  });

  it("begins a new row for each group", () => {
    const grouped = [
      survey("A", 1, 0.1, "South"),
      survey("B", 1, 0.2, "North"),
      survey("C", 1, 0.1, "North"),
      survey("D", 1, 0.1),
    ];
    const found = overview(grouped, []);
    expect(placesOf(found)).toEqual(["0 0 B", "0 1 C", "1 0 A", "2 0 D"]);
    expect(tilesOf(found).map(({ group }) => group)).toEqual(["North", "North", "South", undefined]);
  });

  it("follows the layout of the settings, with the rest below, and says what does not match", () => {
    const layout = [
      ["", "Tazvin"],
      ["Auble", ".", "Nowhere"],
    ];
    const found = overview(summaries, differences, { tiles: layout });
    expect(placesOf(found)).toEqual(["0 1 Tazvin", "1 0 Auble", "2 0 Sorrin", "2 1 Ombrel"]);
    expect(ids(found)).toContain("caution.not-laid-out");
    expect(found[0]?.cautions.find(({ id }) => id.endsWith("unknown-tiles"))?.values.names).toEqual(["Nowhere"]);
  });

  it("tells where levels run from and to when there is one round, under the common rule", () => {
    const one = ["A", "B", "C"].map((place, i) =>
      makeSummary(place, {
        place,
        estimates: [
          makeEstimate("wasting", makeCell(0.1 + i / 100, 0.01), { byExclusion: { none: makeCell(0.5, 0.01) } }),
        ],
      }),
    );
    const [block] = overview(one, []);
    expect(block?.finding).toMatchObject({
      id: "compare.overview.finding.levels.proportion",
      values: { places: 3, low: 0.1, lowest: "A", highest: "C" },
    });
    expect(block?.finding.values.high).toBeCloseTo(0.12, 12);
    expect(overviewOf(one, [], settings, comparabilityFor(one, "none"))[0]?.finding.values).toMatchObject({
      low: 0.5,
      high: 0.5,
    });
  });

  it("leaves out a place whose value is withheld, and says so", () => {
    const found = overview([...summaries, survey("Veil", 1, null)], differences);
    expect(tilesOf(found).map(({ label }) => label)).not.toContain("Veil");
    expect(found[0]?.cautions.find(({ id }) => id.endsWith("caution.absent"))?.values.names).toEqual([
      surveyName(survey("Veil", 1, null)),
    ]);
  });

  it("draws the most telling of very many places, and lists all", () => {
    const many = Array.from({ length: 300 }, (_, i) => survey(`P${i}`, 1, 0.05 + i / 3000));
    const found = overview(many, []);
    expect(tilesOf(found)).toHaveLength(60);
    expect(tilesOf(found).some(({ label }) => label === "P299")).toBe(true);
    expect(found[0]?.tables[0]?.rows).toHaveLength(300);
    expect(found[0]?.cautions.find(({ id }) => id.endsWith("not-drawn"))?.values).toEqual({ drawn: 60, places: 300 });
  });
});
