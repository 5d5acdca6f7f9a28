import { describe, expect, it } from "vitest";
import { qualityBlocks } from "../../src/compare/quality.js";
import { findingsByRound } from "../../src/compare/quality-rounds.js";
import type { SummaryCheck, SurveySummary } from "../../src/compare/summary.js";
import type { Reading } from "../../src/results/schema.js";
import { makeCheck, makeQuantity, makeSummary } from "./make-summary.js";

const digits = (value: number | null, reading: Reading): SummaryCheck =>
  makeCheck("height-digits", reading, {
    quantities: [makeQuantity("digit-dissimilarity", value, { unit: "share", n: 300, chance: { low: 0, high: 0.1 } })],
  });
const at = (key: string, checks: readonly SummaryCheck[], more: Partial<SurveySummary> = {}): SurveySummary => {
  const { definition: _, estimates: __, checks: ___, ...rest } = { ...more } as SurveySummary;
  return makeSummary(key, { ...rest, checks });
};
/** How a survey is named in words: by its place and round. */
const survey = (place: string) => ({ id: "compare.survey", values: { place, round: "2024-05" } });
const blockOf = (surveys: readonly SurveySummary[], id: string) => qualityBlocks(surveys).find((one) => one.id === id);

describe("one check across surveys", () => {
  const surveys = [
    at("a", [digits(0.05, "expected")]),
    at("b", [digits(0.3, "doubt")]),
    at("c", [digits(0.15, "explain")]),
    at("d", [digits(0.2, "explain")]),
    at("e", [digits(null, "unknown")]),
  ];
  const block = blockOf(surveys, "quality-height-digits");

  it("stands in the order of the readings, then of the distance from what chance gives", () => {
    const chart = block?.charts[0];
    if (chart?.kind !== "against-chance") throw new Error("no chart against chance");
    expect(chart.panels[0]?.rows.map(({ label }) => label)).toEqual(["b", "d", "c", "a"].map(survey));
    expect(chart.panels[0]?.rows[0]).toMatchObject({ chanceLow: 0, chanceHigh: 0.1, value: 0.3, n: 300 });
  });

  it("names the surveys in doubt and counts those that need explaining", () => {
    expect(block?.finding.id).toBe("compare.quality.finding.doubt");
    expect(block?.finding.values).toMatchObject({ count: 1, names: [survey("b")], explain: 2, surveys: 5 });
  });

  it("says of which it cannot tell, and why; a survey that lacks the check is not as expected either", () => {
    expect(block?.meaning.map(({ id }) => id)).toEqual(["compare.quality.unknown"]);
    const lacking = blockOf([...surveys, at("f", [])], "quality-height-digits");
    expect(lacking?.meaning.map(({ id }) => id)).toEqual(["compare.quality.unknown", "compare.quality.absent"]);
    const none = qualityBlocks([at("a", [digits(null, "unknown")]), at("b", [digits(null, "unknown")])]);
    expect(none.map(({ id, reading, charts }) => [id, reading, charts.length])).toEqual([
      ["quality-unknown", "unknown", 0],
    ]);
  });

  it("those that raise no question stand together, a panel each, and say of which they cannot tell", () => {
    const shape = (reading: Reading) =>
      makeCheck("shape", reading, {
        quantities: [makeQuantity("skewness-weight-for-height", 0.1, { chance: { low: -0.2, high: 0.2 } })],
      });
    const [expected, ...others] = qualityBlocks([
      at("a", [digits(0.05, "expected"), shape("expected")]),
      at("b", [digits(0.06, "expected"), shape("unknown")]),
    ]);
    expect(others).toEqual([]);
    expect(expected?.id).toBe("quality-expected");
    expect(expected?.finding.values).toMatchObject({ count: 2 });
    expect(expected?.meaning.map(({ id }) => id)).toEqual([
      "compare.quality.meaning.expected",
      "compare.quality.unknown",
    ]);
    const chart = expected?.charts[0];
    expect(chart?.kind === "against-chance" && chart.panels.map(({ rows }) => rows.length)).toEqual([2, 2]);
  });

  it("lists every survey, for the file where they are too many for the page", () => {
    const many = Array.from({ length: 75 }, (_, i) => at(`s${i}`, [digits(0.05, i === 0 ? "explain" : "expected")]));
    const table = blockOf(many, "quality-height-digits")?.tables[0];
    expect(table?.rows).toHaveLength(75);
  });
});

describe("findings from round to round", () => {
  const round = (key: string, day: string, checks: readonly SummaryCheck[]) =>
    at(key, checks, { place: "Ombrel", firstDay: day, round: day.slice(0, 7) });
  const readings = (first: Reading, second: Reading) =>
    findingsByRound([
      // The later round is given first: its first day puts it second.
      round("late", "2024-10-07", [makeCheck("spread", second)]),
      round("early", "2024-03-04", [makeCheck("spread", first)]),
    ])[0];

  it.each([
    ["expected", "doubt", "new"],
    ["explain", "expected", "gone"],
    ["explain", "doubt", "persisting"],
    ["expected", "expected", "absent"],
    ["unknown", "doubt", "cannot-tell"],
    ["doubt", "unknown", "cannot-tell"],
  ] as const)("%s then %s: %s", (first, second, fate) => {
    expect(readings(first, second)).toMatchObject({ fate, before: first, after: second });
  });

  it("a check that one round does not have cannot be told", () => {
    const found = findingsByRound([
      round("early", "2024-03-04", []),
      round("late", "2024-10-07", [makeCheck("spread", "doubt")]),
    ]);
    expect(found[0]?.fate).toBe("cannot-tell");
  });

  it("the block counts them; without a second round there is none", () => {
    const surveys = [
      round("early", "2024-03-04", [makeCheck("spread", "doubt"), makeCheck("shape", "expected")]),
      round("late", "2024-10-07", [makeCheck("spread", "doubt"), makeCheck("shape", "explain")]),
    ];
    expect(blockOf(surveys, "quality-by-round")?.finding.values).toEqual({
      new: 1,
      gone: 0,
      persisting: 1,
      unknown: 0,
      places: 1,
    });
    expect(blockOf([at("a", []), at("b", [])], "quality-by-round")).toBeUndefined();
  });
});
