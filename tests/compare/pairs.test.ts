import { describe, expect, it } from "vitest";
import { pairsNotFound, pairsOf, roundsNotPaired } from "../../src/compare/pairs.js";
import { makeSummary } from "./make-summary.js";

const at = (place: string, round: string) =>
  makeSummary(`${place}-${round}`, { place, round, firstDay: `${round}-02`, lastDay: `${round}-12` });
const ids = (summaries: Parameters<typeof pairsOf>[0], pairs: Parameters<typeof pairsOf>[1]["pairs"] = null) =>
  pairsOf(summaries, { pairs }).map(({ id, question }) => `${question} ${id}`);

describe("rounds of a place", () => {
  it("each with the one before, and the last with the first; earlier first whatever the order given", () => {
    expect(ids([at("a", "2024-03"), at("a", "2023-03"), at("a", "2022-03")])).toEqual([
      "rounds a-2022-03..a-2023-03",
      "rounds a-2023-03..a-2024-03",
      "rounds a-2022-03..a-2024-03",
    ]);
  });

  it("are not paired with other places of other rounds", () => {
    expect(ids([at("a", "2023-03"), at("b", "2024-03")])).toEqual([]);
  });
});

describe("places of a round", () => {
  const places = (count: number) => Array.from({ length: count }, (_, i) => at(`p${i}`, "2024-03"));

  it("all against all up to twelve, none above, which is told", () => {
    expect(ids(places(12))).toHaveLength(66);
    expect(ids(places(13))).toEqual([]);
    expect(roundsNotPaired(places(13))).toEqual([{ round: "2024-03", places: 13 }]);
  });

  it("500 surveys in two rounds give one pair a place", () => {
    const many = Array.from({ length: 250 }, (_, i) => [at(`p${i}`, "2023-03"), at(`p${i}`, "2024-03")]).flat();
    expect(ids(many)).toHaveLength(250);
  });
});

describe("pairs named in the settings", () => {
  const surveys = [at("a", "2023-03"), at("b", "2024-03"), at("a", "2024-03")];

  it("are added once, by file or key, the earlier round of one place first", () => {
    const named = [
      { first: "a-2023-03/results.json", second: "b-2024-03" },
      { first: "a-2024-03", second: "a-2023-03" },
    ];
    expect(ids(surveys, named)).toEqual([
      "rounds a-2023-03..a-2024-03",
      "places b-2024-03..a-2024-03",
      "places a-2023-03..b-2024-03",
    ]);
  });

  it("are named where a survey is not there", () => {
    const pairs = [{ first: "a-2023-03", second: "nowhere" }];
    expect(pairsNotFound(surveys, { pairs })).toEqual([["a-2023-03", "nowhere"]]);
  });
});
