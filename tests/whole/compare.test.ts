import { beforeAll, describe, expect, it } from "vitest";
import { comparabilityOf } from "../../src/compare/comparability.js";
import { plainSettings } from "../../src/compare/compare-settings.js";
import { differencesOf } from "../../src/compare/differences.js";
import { pairsOf } from "../../src/compare/pairs.js";
import type { SurveySummary } from "../../src/compare/summary.js";
import { derive } from "../../src/derive/derive.js";
import { describe as describeSurvey } from "../../src/describe/describe.js";
import { estimates } from "../../src/estimates/index.js";
import { runEstimate } from "../../src/estimates/run.js";
import { populationTruth } from "../../src/example/population.js";
import type { SetSurvey } from "../../src/example/sample-set.js";
import { generateSurvey } from "../../src/example/survey.js";
import { toCsv } from "../../src/example/to-csv.js";
import { toYaml } from "../../src/example/to-yaml.js";
import { commonRound, faultyTeam, highDistricts, twelveDistricts } from "../../src/example/twelve-districts.js";
import { twoRounds, twoRoundsFaults } from "../../src/example/two-rounds.js";
import { readData } from "../../src/read/read-data.js";
import { type Comparison, comparisonSchema } from "../../src/results/comparison.js";
import { parseSurveyFile } from "../../src/settings/survey-file.js";
import { call } from "../cli/run-here.js";
import { makeSummary } from "../compare/make-summary.js";

async function compared(folder: string): Promise<{ readonly comparison: Comparison; readonly text: string }> {
  const { code, out, err } = await call(["compare", `sample-input/${folder}`, "--json", "-"]);
  expect([code, err]).toEqual([0, ""]);
  return { comparison: comparisonSchema.parse(JSON.parse(out)), text: out };
}

const wastingOf = ({ options }: SetSurvey): number => populationTruth(options.fieldwork).wasting;

describe("sample-input/two-rounds", () => {
  let comparison: Comparison;
  let text: string;
  beforeAll(async () => {
    ({ comparison, text } = await compared("two-rounds"));
  });
  const difference = (estimate: string) => comparison.differences.find((one) => one.estimate === estimate);

  it("the true rise of wasting is found; stunting, which does not change, shows no clear change", () => {
    expect(difference("wasting")?.verdict).toBe("rise");
    const interval = difference("wasting")?.interval;
    const [march, october] = twoRounds.surveys.map(wastingOf) as [number, number];
    expect(october - march).toBeGreaterThan(0.03);
    expect(interval?.low).toBeLessThan(october - march);
    expect(interval?.high).toBeGreaterThan(october - march);
    for (const same of ["stunting", "mean-height-for-age"]) {
      expect(difference(same)?.verdict, same).toBe("no-clear-change");
    }
  });

  it("the faulty scale explains a part of it: without that team in both, the rise is smaller and does not vanish", () => {
    const { team } = twoRoundsFaults.scaleDrift;
    const without = comparison.pairedScenarios.filter(
      ({ estimate, label }) => estimate === "wasting" && label.values.team === team,
    );
    expect(without.length).toBe(1);
    const published = difference("wasting")?.difference ?? Number.NaN;
    expect(without[0]?.difference).toBeLessThan(published - 0.01);
    expect(without[0]?.difference).toBeGreaterThan(0.01);
    const { total = 0, stands = 0 } = difference("wasting")?.paired ?? {};
    expect(total).toBeGreaterThan(10);
    expect(stands).toBeGreaterThan(total / 2);
    expect(stands).toBeLessThan(total);
  });

  it("its finding is new in the second round, and March against October carries the caution on the season", () => {
    const table = comparison.sections
      .flatMap(({ blocks }) => blocks)
      .flatMap(({ tables }) => tables)
      .find(({ id }) => id === "quality-by-round");
    const fates = (table?.rows ?? []).map((row) =>
      row.flatMap((cell) => (typeof cell === "object" && cell !== null && "id" in cell ? [cell.id] : [])),
    );
    expect(fates).toContainEqual(["checks.teams-differ.title", "compare.rounds.fate.new"]);
    expect(comparison.story.cautions.map(({ id }) => id)).toContain("compare.story.caution.season");
  });

  it("holds no path of the machine", () => {
    expect(comparison.surveys.map(({ file }) => file)).toEqual(["yundeth-2025-03.yaml", "yundeth-2025-10.yaml"]);
    expect(text).not.toContain(process.cwd());
  });
});

/** Whether two surveys of a set truly have the same share of wasted children. */
function trulyEqual(first: SetSurvey, second: SetSurvey): boolean {
  return Math.abs(wastingOf(first) - wastingOf(second)) < 1e-9;
}

describe("sample-input/twelve-districts", () => {
  let comparison: Comparison;
  beforeAll(async () => {
    ({ comparison } = await compared("twelve-districts"));
  });
  const survey = new Map(twelveDistricts.surveys.map((one) => [one.name, one]));
  const judged = (estimate: string, question: "rounds" | "places") =>
    comparison.pairs
      .filter((pair) => pair.question === question)
      .map((pair) => {
        const [first, second] = [survey.get(pair.first), survey.get(pair.second)] as [SetSurvey, SetSurvey];
        const own = comparison.differences.find((one) => one.pair === pair.id && one.estimate === estimate);
        return { pair, first, second, verdict: own?.verdict, equal: trulyEqual(first, second) };
      });

  it("in the common round every true difference of wasting is found, and none is claimed where there is none", () => {
    const pairs = judged("wasting", "places").filter(({ first }) => first.round === commonRound);
    expect(pairs.length).toBe(66);
    expect(pairs.filter(({ equal }) => !equal).length).toBe(highDistricts.length * (12 - highDistricts.length));
    for (const { pair, equal, verdict, second } of pairs) {
      const higher = highDistricts.includes(second.district.name) ? "rise" : "fall";
      expect(verdict, pair.id).toBe(equal ? "no-clear-change" : higher);
    }
  });

  it("stunting, the same everywhere, differs nowhere clearly", () => {
    for (const question of ["places", "rounds"] as const) {
      for (const { pair, verdict } of judged("stunting", question)) expect(verdict, pair.id).toBe("no-clear-change");
    }
  });

  it("over three rounds Dolvane truly rises and that is found; Hurnet, which does not change, shows no clear change", () => {
    const rounds = judged("wasting", "rounds");
    const verdicts = (place: string) =>
      rounds.filter(({ first }) => first.district.name === place).map(({ verdict }) => verdict);
    expect(verdicts("Dolvane")).toEqual(["rise", "rise", "rise"]);
    expect(verdicts("Hurnet")).toEqual(["no-clear-change", "no-clear-change", "no-clear-change"]);
  });

  it("the spread of wasting over districts is more than chance; that of stunting is not", () => {
    const pooled = (estimate: string) =>
      comparison.pooled.find((one) => one.estimate === estimate && one.round === commonRound)?.heterogeneity;
    expect(pooled("wasting")?.probability).toBeLessThan(0.001);
    expect(pooled("stunting")?.probability).toBeGreaterThan(0.05);
  });

  it("the district with the team that rounds its heights is the one whose heights raise a question", () => {
    const block = comparison.sections.flatMap(({ blocks }) => blocks).find(({ id }) => id === "quality-height-digits");
    expect(block?.reading).not.toBe("expected");
    const rows = block?.charts.flatMap((chart) => (chart.kind === "against-chance" ? chart.panels : [])) ?? [];
    const noticed = rows.flatMap(({ rows: own }) => own).filter(({ reading }) => reading !== "expected");
    expect(new Set(noticed.map(({ label }) => JSON.stringify(label).includes(faultyTeam.district)))).toEqual(
      new Set([true]),
    );
  });
});

/** One estimate of an invented survey, as much of a summary as a comparison of levels needs. */
async function estimated(one: SetSurvey, seed: number, estimate: string): Promise<SurveySummary> {
  const { options, name } = one;
  const csv = toCsv(generateSurvey({ ...options, seed }));
  const given = { title: name, name, data: "d.csv", remark: "Invented data.", fieldwork: options.fieldwork };
  const table = await readData(new TextEncoder().encode(csv), "d.csv");
  const described = describeSurvey(table, parseSurveyFile(toYaml(given), "d.yaml"));
  const { children } = derive(described);
  const found = estimates.find(({ id }) => id === estimate);
  if (found === undefined) throw new Error(`There is no estimate '${estimate}'.`);
  const result = runEstimate(found, children, described.settings);
  const byExclusion = new Map(result.byExclusion.map(({ rule, cell }) => [rule, cell]));
  return makeSummary(name, {
    place: one.district.name,
    round: commonRound,
    estimates: [{ ...result, reason: result.reason ?? null, byExclusion }],
  });
}

describe("twelve districts that are all alike, twenty times", () => {
  const seeds = 20;

  it("a clear difference is claimed in no more of them than a false-discovery rate of 5 in 100 allows", async () => {
    const twelve = twelveDistricts.surveys
      .slice(0, 12)
      .map((one) => ({ ...one, options: { ...one.options, faults: {} } }));
    const settings = { ...plainSettings([], { name: "n", title: "t", language: "en" }), estimates: ["stunting"] };
    let claiming = 0;
    for (let i = 0; i < seeds; i++) {
      const summaries: SurveySummary[] = [];
      for (const [k, one] of twelve.entries()) summaries.push(await estimated(one, 31_000 + 100 * i + k, "stunting"));
      const differences = differencesOf(pairsOf(summaries, settings), summaries, comparabilityOf(summaries, settings));
      expect(differences.length).toBe(66);
      if (differences.some(({ verdict }) => verdict === "rise" || verdict === "fall")) claiming += 1;
    }
    // Where nothing differs every claim is false, so that the false-discovery rate is the share of comparisons with any
    // claim (Benjamini and Hochberg, J R Stat Soc B 1995;57:289-300). Of 20 at 5 in 100, five or more claim with a
    // binomial probability of 0.0026.
    expect(claiming).toBeLessThanOrEqual(4);
  });
});
