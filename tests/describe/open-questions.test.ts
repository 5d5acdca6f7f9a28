import { describe, expect, it } from "vitest";
import { type Answers, noAnswers } from "../../src/describe/answers.js";
import { describe as describeTable } from "../../src/describe/describe.js";
import { draft } from "../../src/describe/draft.js";
import { openQuestions } from "../../src/describe/open-questions.js";
import { loadWords } from "../../src/render/words.js";
import { parseSurveyFile } from "../../src/settings/survey-file.js";
import { type Columns, children, mustHaveWords, tableOf } from "../columns/make-table.js";

const words = loadWords("en");

/** Answers every question by the number of a choice, and gives the survey that the draft then stands for. */
async function settle(columns: Columns, choices: readonly number[]) {
  const table = await tableOf(columns);
  const asked: string[] = [];
  let answers: Answers = noAnswers;
  for (const choice of choices) {
    const [question] = openQuestions(table, answers);
    if (question === undefined) throw new Error(`nothing is left to ask after ${asked}`);
    [question.text, ...question.choices.map(({ label }) => label)].forEach(mustHaveWords);
    asked.push(question.id);
    answers = question.choices[choice - 1]?.take(answers) ?? answers;
  }
  expect(openQuestions(table, answers)).toEqual([]);
  const { text, openLines } = draft(table, (message) => words.text(message), answers);
  expect(openLines).toEqual([]);
  return { asked, survey: describeTable(table, parseSurveyFile(text, "survey.yaml")) };
}

const { weight = [], sex: _sex = [], ...rest } = children;

describe("open questions", () => {
  it("are none where names and values leave nothing open", async () => {
    expect((await settle(children, [])).asked).toEqual([]);
  });

  it("about which column it is are settled by one of the columns", async () => {
    const columns = { ...rest, sex: _sex, "a/weight": weight, "b/weight": weight.map((value) => Number(value) + 1) };
    const { asked, survey } = await settle(columns, [2]);
    expect(asked).toEqual(["weight"]);
    expect(survey.settings.columns.weight).toBe("b/weight");
  });

  it("about a column that no name speaks of offer those whose values fit, and others where none does", async () => {
    const { survey } = await settle({ ...rest, weight, q3: _sex }, [1]);
    expect(survey.settings.columns.sex).toBe("q3");
    const table = await tableOf({ ...rest, weight, colour: ["red", "blue", "red", "T2", "red", "blue"] });
    const [question] = openQuestions(table, noAnswers);
    // What might be a name is not shown.
    expect(question?.choices.map(({ label }) => label)).toMatchObject([
      { id: "input.draft.candidate", values: { column: "colour", samples: ["T2"] } },
      { id: "input.ask.none" },
    ]);
  });

  it("about codes, dates, units and decimal signs lead to what is written into the settings", async () => {
    const codes = await settle({ ...rest, weight, sex: [0, 1, 0, 1, 0, 1] }, [2]);
    expect([...codes.survey.sex]).toEqual([2, 1, 2, 1, 2, 1]);
    const other = await settle({ ...rest, weight, sex: [0, 1, 0, 1, 0, 1] }, [1]);
    expect([...other.survey.sex]).toEqual([1, 2, 1, 2, 1, 2]);
    const dates = await settle({ ...children, "birth date": Array(6).fill("03/04/2024") }, [2]);
    expect(new Date((dates.survey.birthDay?.[0] ?? 0) * 86_400_000).toISOString().slice(0, 10)).toBe("2024-03-04");
    const units = await settle({ ...rest, sex: _sex, weight: [200, 300, 250, 320, 280, 260] }, [2]);
    expect(units.survey.weight?.values[0]).toBe(0.2);
    const commas = { ...rest, sex: _sex, weight: ["10,4", "12,1", "5,9", "14,2", "15,6", "9.1"] };
    const table = await tableOf(commas);
    const [question] = openQuestions(table, noAnswers);
    expect(question?.id).toBe("weight mixed-decimal-signs");
    const answers = question?.choices[1]?.take(noAnswers) ?? noAnswers;
    const { text } = draft(table, (message) => words.text(message), answers);
    expect(parseSurveyFile(text, "survey.yaml").values.columns?.weight).toMatchObject({ decimal: "comma" });
  });

  it("may lead to another: a column chosen whose codes are open", async () => {
    const { asked, survey } = await settle(
      { ...rest, weight, "a/sex": [0, 1, 0, 1, 0, 1], "b/sex": [1, 0, 1, 0, 1, 0] },
      [1, 2],
    );
    expect(asked).toEqual(["sex", "sex codes-unclear"]);
    expect([...survey.sex]).toEqual([2, 1, 2, 1, 2, 1]);
  });

  it("stay in the draft, with their lines, when none of the answers is taken", async () => {
    const table = await tableOf({ ...rest, weight, "a/sex": _sex, "b/sex": _sex });
    const [question] = openQuestions(table, noAnswers);
    const none = question?.choices.at(-1)?.take(noAnswers) ?? noAnswers;
    const { text, openLines: lines } = draft(table, (message) => words.text(message), none);
    expect(lines.map((line) => text.split("\n")[line - 1])).toEqual(['  sex: "?"']);
    expect(text.split("\n")[1]).toContain(String(lines[0]));
  });
});
