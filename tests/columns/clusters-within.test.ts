import { describe, expect, it } from "vitest";
import { noAnswers } from "../../src/describe/answers.js";
import { describe as describeTable } from "../../src/describe/describe.js";
import { draft } from "../../src/describe/draft.js";
import { openQuestions } from "../../src/describe/open-questions.js";
import { loadWords } from "../../src/render/words.js";
import { parseSurveyFile } from "../../src/settings/survey-file.js";
import { type Columns, children, describeProblems, mustHaveWords, surveyOf, tableOf } from "./make-table.js";

const words = loadWords("en");
const twice = <Value>(values: readonly Value[] = []): Value[] => [...values, ...values];
/** Twelve children in clusters 1 to 3, which stand in each of two places. */
const repeated: Columns = {
  ...Object.fromEntries(Object.entries(children).map(([name, values]) => [name, twice(values)])),
  province: [
    "Coast",
    "Coast",
    "Coast",
    "Coast",
    "Coast",
    "Coast",
    "Hills",
    "Hills",
    "Hills",
    "Hills",
    "Hills",
    "Hills",
  ],
};
const settings = (cluster: string, more = "") =>
  `data: data.csv\ncolumns:\n  cluster: ${cluster}\n  sex: sex\n  weight: weight\n  height: height\n${more}`;

describe("cluster numbers that start anew in every place", () => {
  it("are told apart by a letter of the place, which is not named", async () => {
    const survey = await surveyOf(repeated, settings("{ column: cluster, within: province }"));
    expect(survey.cluster?.publicLabels).toEqual(["1-A", "2-A", "3-A", "1-B", "2-B", "3-B"]);
    expect([...(survey.cluster?.codes ?? [])]).toEqual([0, 0, 1, 1, 2, 2, 3, 3, 4, 4, 5, 5]);
  });

  it("get codes of their own where codes are asked for", async () => {
    const survey = await surveyOf(
      repeated,
      settings("{ column: cluster, within: province }", "privacy:\n  clusters: codes\nplanned:\n  clusters: 7\n"),
    );
    expect(new Set(survey.cluster?.publicLabels)).toEqual(new Set(["C1", "C2", "C3", "C4", "C5", "C6"]));
    expect(
      survey.plan?.clusters
        .map(({ label }) => label)
        .filter((label) => label !== null)
        .sort(),
    ).toEqual([..."123456".split("").map((number) => `C${number}`)]);
  });

  it("are asked about, with every place that suggests it and 'none'; the answer stands in the draft", async () => {
    const table = await tableOf(repeated);
    const questions = openQuestions(table, noAnswers);
    expect(questions.map(({ id }) => id)).toEqual(["cluster cluster-numbers-repeat"]);
    const [question] = questions;
    for (const text of [question?.text, ...(question?.choices.map(({ label }) => label) ?? [])])
      if (text !== undefined) mustHaveWords(text);
    const say = (said: Parameters<typeof words.text>[0]) => words.text(said);
    expect(draft(table, say).text).toMatch(/column: cluster\n {4}within: "\?"/);
    const drafts = question?.choices.map(({ take }) => draft(table, say, take(noAnswers)).text) ?? [];
    const counted = drafts.map(
      (text) => new Set(describeTable(table, parseSurveyFile(text, "survey.yaml")).cluster?.codes).size,
    );
    expect(counted).toEqual([6, 3]);
  });

  it("are refused in a report without settings, with the numbers", async () => {
    const [problem, ...others] = await describeProblems(repeated);
    expect(others).toEqual([]);
    expect(problem).toMatchObject({
      kind: "cluster-numbers-repeat",
      column: "cluster",
      details: { repeated: 3, labels: 3, clusters: 6, candidates: ["province"] },
    });
  });

  it("are not suspected where each cluster lies in one place, or one child's place is a slip", async () => {
    const apart = { ...repeated, cluster: [1, 1, 2, 2, 3, 3, 4, 4, 5, 5, 6, 6] };
    expect((await surveyOf(apart)).cluster?.labels).toHaveLength(6);
    const slip = { ...apart, province: ["Hills", ...(repeated.province ?? []).slice(1)] };
    expect((await surveyOf(slip)).cluster?.labels).toHaveLength(6);
  });

  it("a column that the data do not have is named", async () => {
    const problems = await describeProblems(repeated, settings("{ column: cluster, within: provinec }"));
    expect(problems).toMatchObject([
      { kind: "column-not-found", value: "provinec", details: { suggestion: "province" } },
    ]);
  });
});
