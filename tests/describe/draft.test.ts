import { afterAll, describe, expect, it } from "vitest";
import { describe as describeTable } from "../../src/describe/describe.js";
import { draft } from "../../src/describe/draft.js";
import { loadWords } from "../../src/render/words.js";
import { groupProblems, InputError } from "../../src/settings/problems.js";
import { parseSurveyFile } from "../../src/settings/survey-file.js";
import { type Columns, children, problemsOf, tableOf } from "../columns/make-table.js";

const words = loadWords("en");
const draftOf = async (columns: Columns) => draft(await tableOf(columns), (message) => words.text(message)).text;

afterAll(() => expect([...words.missing]).toEqual([]));

describe("a draft", () => {
  it("without questions is read as it is and gives the survey that the guesses give", async () => {
    const text = await draftOf(children);
    const table = await tableOf(children);
    const drafted = describeTable(table, parseSurveyFile(text, "survey.yaml"));
    const guessed = describeTable(table, null);
    expect(drafted.settings.columns).toEqual(guessed.settings.columns);
    expect(drafted.weight).toEqual(guessed.weight);
    expect(drafted.sex).toEqual(guessed.sex);
    expect(drafted.birthDay).toEqual(guessed.birthDay);
    expect(drafted.oedema).toEqual(guessed.oedema);
  });

  it("writes out what was settled from the values", async () => {
    const file = parseSurveyFile(
      await draftOf({
        ...children,
        sex: [1, 2, 1, 2, 1, 2],
        weight: [10400, 12100, 5900, 14200, 15600, 9000],
        "birth date": ["13/05/2024", "28/02/2023", "01/10/2025", "19/07/2022", "31/12/2021", "02/09/2024"],
      }),
      "survey.yaml",
    );
    expect(file.values.columns).toMatchObject({
      sex: { column: "sex", codes: { male: ["1"], female: ["2"] } },
      weight: { column: "weight", unit: "g" },
      "birth-date": { column: "birth date", "date-order": "day-month-year" },
    });
  });

  it("suggests a missing code where a spike is seen", async () => {
    const text = await draftOf({ ...children, weight: [999, 12.1, 5.9, 999, 15.6, 9] });
    const survey = describeTable(
      await tableOf({ ...children, weight: [999, 12.1, 5.9, 999, 15.6, 9] }),
      parseSurveyFile(text, "survey.yaml"),
    );
    expect(survey.weight?.missing).toBe(2);
  });

  it.each<[string, Columns, string[]]>([
    [
      "two columns for one role",
      { ...children, weight: [], "a/weight": children.weight ?? [], "b/weight": children.weight ?? [] },
      ["columns > weight"],
    ],
    ["a coding", { ...children, sex: [0, 1, 0, 1, 0, 1] }, ["columns > sex > codes"]],
    [
      "the order of dates",
      { ...children, "birth date": Array(6).fill("03/04/2024") },
      ["columns > birth-date > date-order"],
    ],
    [
      "an age in years",
      { ...children, "birth date": Array(6).fill(""), age: [1.7, 2.9, 0.3, 3.5, 4.1, 1.4] },
      ["columns > age-months"],
    ],
    [
      "dates that no name speaks of",
      { ...children, "birth date": Array(6).fill(""), d1: children["birth date"] ?? [] },
      ["columns > birth-date"],
    ],
    ["a unit", { ...children, weight: [200, 300, 250, 320, 280, 260] }, ["columns > weight > unit"]],
    [
      "the decimal sign",
      { ...children, weight: ["10,4", "12.1", "5,9", "14.2", "15,6", 9] },
      ["columns > weight > decimal"],
    ],
    [
      "nothing recognised",
      { a: ["x", "y"], b: ["p", "q"] },
      ["columns > sex", "columns > birth-date", "columns > weight", "columns > height"],
    ],
  ])("asks about %s, and is refused until it is answered", async (_, columns, places) => {
    // A column without values is not one of the two.
    const { weight, ...rest } = columns;
    const text = await draftOf(weight !== undefined && weight.length === 0 ? rest : columns);
    const problems = await problemsOf(() => parseSurveyFile(text, "survey.yaml"));
    expect(problems.map((problem) => problem.kind)).toEqual(places.map(() => "settings-unanswered"));
    expect(problems.map((problem) => problem.value)).toEqual(places);
    for (const problem of problems) expect(text.split("\n")[(problem.line ?? 0) - 1]).toContain('"?"');
  });

  it("takes 9 for 'not recorded' among other codes, and says so", async () => {
    const columns = { ...children, oedema: ["n", "y", 9, "n", 9, "n"] };
    const file = parseSurveyFile(await draftOf(columns), "survey.yaml");
    expect(file.values.columns?.oedema).toMatchObject({ column: "oedema", missing: ["9"] });
    expect([...(describeTable(await tableOf(columns), file).oedema ?? [])]).toEqual([0, 1, 2, 0, 2, 0]);
  });

  it("without any age is complete, and says what cannot be computed", async () => {
    const { "birth date": _, "interview date": __, ...rest } = children;
    const said: string[] = [];
    const { text } = draft(await tableOf(rest), (message) => {
      said.push(message.id);
      return words.text(message);
    });
    expect(said).toContain("input.draft.no-age");
    expect(describeTable(await tableOf(rest), parseSurveyFile(text, "survey.yaml")).birthDay).toBeNull();
    const withAge: string[] = [];
    draft(await tableOf(children), (message) => `${withAge.push(message.id)}`);
    expect(withAge).not.toContain("input.draft.no-age");
    expect(withAge).not.toContain("input.draft.key.age-in-months");
  });

  it("states how ages in months are read, where there are any", async () => {
    const { "birth date": _, "interview date": __, ...rest } = children;
    const text = await draftOf({ ...rest, "age months": [20, 34, 3, 42, 48, 16] });
    expect(parseSurveyFile(text, "survey.yaml").values["age-in-months"]).toBe("completed");
  });

  it("cannot be broken out of by a name or a value", async () => {
    const name = 'weight # "kg": [1]\nevil: true';
    const table = await tableOf({
      ...children,
      [name]: ["\nevil: true", "a\rb: c", "\u2028x: y", "- z", "#", "{}"],
      "team: x": [1, 2, 3, 4, 5, 6],
    });
    const { text } = draft(table, (message) => words.text(message));
    const file = parseSurveyFile(text, "survey.yaml");
    expect(Object.keys(file.values)).not.toContain("evil");
    expect(file.values.columns?.weight).toEqual({ column: "weight", unit: "kg" });
  });

  it("has no message without words, nor has any problem", async () => {
    const bad: Columns = {
      ...children,
      sex: ["m", "f", "?", "f", "m", "f"],
      weight: ["0", "-3", "9500", "12kg", "999", "9"],
      height: ["79.5", "91,2", "603", "97", "102.4", "7"],
      "birth date": ["2026-02-30", "soon", "2026-02-01", "2022-07-19", "45000", "2024-09-02"],
      "sampling weight": [1, 1, 0, 1, 1, 1],
      position: [1, 2, 1, 2, 1, 2],
    };
    expect(await draftOf(bad)).not.toContain("[[");
    const thrown = await tableOf(bad)
      .then((table) => describeTable(table, null))
      .catch((error: unknown) => error);
    if (!(thrown instanceof InputError)) throw thrown;
    for (const group of groupProblems(thrown.problems)) {
      for (const message of [group.title, group.remedy, ...group.examples]) {
        const text = words.text(message);
        expect(text).not.toContain("[[");
        expect(text).not.toMatch(/[{}]|undefined|NaN/);
      }
    }
  });
});
