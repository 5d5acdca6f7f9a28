import { describe, expect, it } from "vitest";
import { noAnswers } from "../../src/describe/answers.js";
import { describe as describeTable } from "../../src/describe/describe.js";
import { draft } from "../../src/describe/draft.js";
import { guessRoles } from "../../src/describe/guess.js";
import { openQuestions } from "../../src/describe/open-questions.js";
import { loadWords } from "../../src/render/words.js";
import { parseSurveyFile } from "../../src/settings/survey-file.js";
import { type Columns, children, describeProblems, mustHaveWords, surveyOf, tableOf } from "../columns/make-table.js";

const words = loadWords("en");
const { height = [], weight = [], sex = [], ...rest } = children;
const without = (values: readonly (string | number)[], rows: readonly number[]) =>
  values.map((value, row) => (rows.includes(row) ? "" : value));
const halves: Columns = {
  ...rest,
  sex,
  weight,
  length: without(height, [1, 3, 4]),
  height: without(height, [0, 2, 5]),
};

describe("two columns that claim one role", () => {
  it("lengths and heights that are never both filled are one, each child's position is told by its column, and both are said", async () => {
    const survey = await surveyOf(halves);
    expect([...(survey.height?.values ?? [])]).toEqual(height);
    expect([...(survey.position ?? [])]).toEqual([1, 2, 1, 2, 2, 1]);
    const notes = new Map(survey.settings.notes.map(({ id, values }) => [id, values]));
    expect(notes.get("input.note.halves-as-one")).toEqual({
      role: "height",
      column: "height",
      otherwise: "length",
      first: 3,
      second: 3,
      both: 0,
    });
    expect(notes.get("input.note.position-from-columns")).toEqual({ lying: "length", standing: "height" });
    expect(survey.settings.columns.height).toEqual(["height", "length"]);
  });

  it("a column for the position is read before the names of two columns", async () => {
    const survey = await surveyOf({
      ...halves,
      position: ["standing", "standing", "lying", "standing", "standing", "lying"],
    });
    expect([...(survey.position ?? [])]).toEqual([2, 2, 1, 2, 2, 1]);
  });

  it("the draft has both, and stands for the same survey", async () => {
    const table = await tableOf(halves);
    const { text } = draft(table, (said) => words.text(said));
    expect(text).toMatch(/height:\n {4}column: height\n {4}otherwise: length\n/);
    expect(text).toContain("each hold a part of the rows and never both");
    const survey = describeTable(table, parseSurveyFile(text, "survey.yaml"));
    expect([...(survey.height?.values ?? [])]).toEqual(height);
    expect([...(survey.position ?? [])]).toEqual([1, 2, 1, 2, 2, 1]);
  });

  it.each([
    ["a second weight under a usual name", "weight", { wgt: weight.map((value) => Number(value) + 1) }],
    [
      "a second weight that fills what the first lacks and contradicts it elsewhere",
      "weight",
      { wgt: [9, ...weight.slice(1)] },
    ],
    ["a length beside a height, both filled", "height", { length: height.map((value) => Number(value) + 0.7) }],
    ["another sex", "sex", { gender: [...sex].reverse() }],
    ["another number of clusters", "cluster", { "enumeration area": [1, 1, 1, 1, 1, 2] }],
    [
      "another sampling weight",
      "sampling-weight",
      { "sampling weight": [1, 1, 1, 2, 2, 2], "design weight": [1, 2, 1, 2, 1, 2] },
    ],
  ] as const)("%s: asked in describe, refused with both in a report", async (_, role, more) => {
    const columns = { ...children, ...more };
    const [question] = openQuestions(await tableOf(columns), noAnswers);
    expect(question?.id).toBe(role);
    for (const label of [question?.text, ...(question?.choices.map((choice) => choice.label) ?? [])])
      if (label !== undefined) mustHaveWords(label);
    const [problem] = await describeProblems(columns);
    expect(problem).toMatchObject({ kind: "role-unclear", details: { role } });
    expect(problem?.details?.candidates).toHaveLength(2);
  });

  it.each([
    ["the same numbers", { wgt: weight.map((value) => Number(value).toFixed(2)) }],
    ["the same numbers with gaps", { wgt: without(weight, [2]) }],
    ["a code and its label", { gender: sex.map((code) => (code === "m" ? "male" : "female")) }],
    ["names of the same teams", { "team code": (children.team ?? []).map((team) => `${team}x`) }],
    ["an empty column", { wgt: Array(6).fill("") }],
    ["a column of one number, which measures nothing", { wt: Array(6).fill(1) }],
  ])("%s: nothing is asked", async (_, more) => {
    const columns: Columns = { ...children, ...more };
    expect(guessRoles(await tableOf(columns)).questions).toEqual([]);
    expect((await surveyOf(columns)).settings.columns).toMatchObject({ weight: "weight", sex: "sex", team: "team" });
  });

  it("where the settings name two and both are filled, the first is taken and that is counted", async () => {
    const survey = await surveyOf(
      { ...halves, height: without(height, [0, 2]) },
      "data: data.csv\ncolumns:\n  sex: sex\n  weight: weight\n  height: { column: height, otherwise: length }\n",
    );
    expect(survey.settings.notes.find(({ id }) => id === "input.note.halves-as-one")?.values).toMatchObject({
      first: 4,
      second: 2,
      both: 1,
    });
  });

  it("a column that stands for two roles is refused in settings, second halves included", async () => {
    const settings =
      "data: data.csv\ncolumns:\n  sex: sex\n  weight: { column: weight, otherwise: height }\n  height: height\n";
    expect(await describeProblems(halves, settings)).toMatchObject([
      { kind: "settings-column-twice", value: "height" },
    ]);
  });
});
