import { describe, expect, it } from "vitest";
import { chooseSurveys, readSurvey, type SurveyFacts } from "../../src/compare/read-summary.js";
import type { SurveySummary } from "../../src/compare/summary.js";
import type { Message, Results } from "../../src/results/schema.js";
import { asVersionOne, asVersionTwo, computedResults } from "./computed-results.js";

const results = await computedResults({ seed: 72, size: 360, clusters: 18 });
const facts: SurveyFacts = {
  file: "a/results.json",
  sha256: "a".repeat(64),
  place: null,
  round: null,
  group: null,
  population: null,
  clustersRevisited: false,
};

function read(raw: unknown, given: Partial<SurveyFacts> = {}): SurveySummary {
  const made = readSurvey(raw, { ...facts, ...given });
  if ("refused" in made) throw new Error(JSON.stringify(made.refused));
  return made.summary;
}

function refusal(raw: unknown): Message {
  const made = readSurvey(raw, facts);
  if (!("refused" in made)) throw new Error("was accepted");
  return made.refused;
}

describe("a results.json", () => {
  const summary = read(results);

  it("gives what a comparison needs, number for number", () => {
    const wasting = results.estimates.find(({ id }) => id === "wasting");
    const { classification, ...numbers } = wasting?.overall ?? {};
    expect(classification?.scheme).toBe("who-unicef-2019");
    expect(summary.estimates.get("wasting")?.overall).toEqual(numbers);
    expect([...(summary.estimates.get("wasting")?.byExclusion.keys() ?? [])]).toEqual(["fixed", "around-mean", "none"]);
    expect(summary.estimates.size).toBe(results.estimates.length);
    expect([...summary.checks.keys()]).toEqual(results.checks.map(({ id }) => id));
    const spread = results.checks.find(({ id }) => id === "spread");
    expect(summary.checks.get("spread")?.quantities).toEqual(spread?.quantities);
    expect(summary.checks.get("spread")?.groups.length).toBe(spread?.groups.length);
    expect(summary.scenarios.length).toBe(results.consequence?.scenarios.length);
    const scenario = results.consequence?.scenarios[0];
    expect(summary.scenarios[0]?.outcomes.get("wasting")?.standardError).toBe(
      scenario?.outcomes.find(({ estimate }) => estimate === "wasting")?.standardError,
    );
    expect(summary.children).toBe(results.children.total);
    expect(summary.definition).toEqual({
      ageFrom: 0,
      ageTo: 59,
      exclusionRule: "fixed",
      widthAroundMean: 3,
      positionRule: "age",
      weighted: true,
      finitePopulationCorrection: true,
      designUnknown: [],
    });
  });

  it("is placed by its population and dated by its first day, unless the settings say otherwise", () => {
    expect([summary.place, summary.round, summary.group]).toEqual([results.survey.population, "2024-10", null]);
    const told = read(results, { place: "Tazvin", round: "second", group: "North", population: 34_900 });
    expect([told.place, told.round, told.group, told.populationSize]).toEqual(["Tazvin", "second", "North", 34_900]);
    const { comparable } = results;
    const survey = { ...comparable.survey, population: " ", firstDay: null };
    const nameless = { ...results, comparable: { ...comparable, survey } };
    expect([read(nameless).place, read(nameless).round]).toEqual([results.survey.title, null]);
  });

  it("of version 1 is brought up to date and remembers its version", () => {
    const earlier = read(asVersionOne(results));
    expect(earlier.formatVersion).toBe(1);
    expect(earlier.scenarios.length).toBe(summary.scenarios.length);
    expect(summary.formatVersion).toBe(3);
  });

  it("without consequence stays usable, with no scenarios", () => {
    const { consequence: _, ...without } = asVersionTwo(results);
    expect(read(without).scenarios).toEqual([]);
  });

  it("is taken although parts that are not needed are broken", () => {
    expect(read({ ...results, story: null, sources: 5, notes: {}, estimates: [] }).estimates).toEqual(
      summary.estimates,
    );
  });
});

describe("refused with a reason", () => {
  it.each([
    ["no mapping", [1], "compare.refused.format"],
    ["null", null, "compare.refused.format"],
    ["another format", { format: "something-else", version: 2 }, "compare.refused.format"],
    ["a comparison", { format: "tareline-comparison", version: 1 }, "compare.refused.comparison"],
    ["a later version", { ...results, version: 4 }, "compare.refused.version"],
    ["a version that is no number", { ...results, version: {} }, "compare.refused.version"],
    ["no section for comparisons", { ...results, comparable: undefined }, "compare.refused.part"],
    [
      "a name that leads elsewhere",
      { ...results, comparable: { ...results.comparable, survey: { ...results.comparable.survey, name: "../x" } } },
      "compare.refused.part",
    ],
  ])("%s", (_, raw, id) => expect(refusal(raw).id).toBe(id));

  it("names the part that is damaged, also in results of earlier versions", () => {
    const copy = JSON.parse(JSON.stringify(results)) as typeof results;
    (copy.comparable.checks[2] as { reading: string }).reading = "fine";
    expect(refusal(copy).values.where).toBe("comparable > checks > 2 > reading");
    const earlier = asVersionTwo(JSON.parse(JSON.stringify(results))) as unknown as typeof results;
    (earlier.checks[2] as { reading: string }).reading = "fine";
    expect(refusal(earlier).values.where).toBe("checks > 2 > reading");
  });
});

describe("surveys chosen", () => {
  const sha = (digit: string): Results => ({
    ...results,
    comparable: { ...results.comparable, dataSha256: digit.repeat(64) },
  });
  const readAs = (raw: Results, file: string) => {
    const outcome = readSurvey(raw, { ...facts, file });
    return "refused" in outcome ? { ...outcome, file } : outcome;
  };

  it("that share a name get numbered keys; the same data twice is refused with the file it repeats", () => {
    const { summaries, refused } = chooseSurveys([
      readAs(sha("1"), "a.json"),
      readAs(sha("2"), "b.json"),
      readAs(sha("1"), "c.json"),
      { file: "d.json", refused: { id: "compare.refused.json", values: {} } },
      readAs(sha("3"), "e.json"),
    ]);
    expect(summaries.map(({ key }) => key)).toEqual(["invented", "invented-2", "invented-3"]);
    expect(refused.map(({ file, reason }) => [file, reason.id])).toEqual([
      ["c.json", "compare.refused.same-data"],
      ["d.json", "compare.refused.json"],
    ]);
    expect(refused[0]?.reason.values.other).toBe("a.json");
  });
});
