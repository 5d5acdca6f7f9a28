import { describe, expect, it } from "vitest";
import { isFew } from "../../src/columns/possible.js";
import { asWritten } from "../../src/columns/set-aside.js";
import { draft } from "../../src/describe/draft.js";
import { loadWords } from "../../src/render/words.js";
import { type Columns, children, describeProblems, kinds, surveyOf, tableOf } from "./make-table.js";

/** The six children again and again, some cells of one column changed. */
function many(rows: number, name: string, cells: Readonly<Record<number, string | number>>): Columns {
  const repeated = Object.entries(children).map(([column, values]) => [
    column,
    Array.from({ length: rows }, (_, i) => values[i % values.length] ?? ""),
  ]);
  const columns = Object.fromEntries(repeated) as Record<string, (string | number)[]>;
  for (const [row, cell] of Object.entries(cells)) (columns[name] as (string | number)[])[Number(row)] = cell;
  return columns;
}
const notes = (survey: Awaited<ReturnType<typeof surveyOf>>) =>
  survey.settings.notes.filter(({ id }) => id === "input.note.set-aside").map(({ values }) => values);

describe("how many cells can be set aside", () => {
  // Two in a hundred, and one in twenty or more: the project's own judgement, no source.
  it.each([
    [2, 100, true],
    [3, 100, false],
    [3, 150, true],
    [1, 20, true],
    [1, 19, false],
    [2, 99, false],
    [18, 900, true],
    [19, 900, false],
  ])("%i of %i: %s", (impossible, filled, few) => expect(isFew(impossible, filled)).toBe(few));

  it("one cell of nineteen is refused, one of twenty set aside", async () => {
    const nineteen = many(19, "weight", { 3: 12100 });
    expect(kinds(await describeProblems(nineteen))).toEqual(["units-mixed"]);
    const survey = await surveyOf(many(20, "weight", { 3: 12100 }));
    expect(survey.weight?.values[3]).toBeNaN();
    expect(survey.weight?.setAside?.[3]).toBe(12_100);
    expect([...(survey.weight?.setAside ?? [])].filter((value) => !Number.isNaN(value))).toHaveLength(1);
    expect(notes(survey)).toEqual([{ role: "weight", count: 1 }]);
  });

  it("cells that are empty count for nothing", async () => {
    const empty = Object.fromEntries(Array.from({ length: 40 }, (_, i) => [i, ""]));
    expect(kinds(await describeProblems(many(59, "weight", { ...empty, 45: 12100 })))).toEqual(["units-mixed"]);
  });
});

describe("a cell outside what is possible", () => {
  it("is told of in the draft of the settings, and not asked about", async () => {
    const words = loadWords("en");
    const { text: drafted, openLines } = draft(await tableOf(many(60, "weight", { 7: 12100 })), (said) =>
      words.text(said),
    );
    expect(drafted).toContain("# In “the child's weight”, one value lies outside what is possible for a child.");
    expect(openLines).toEqual([]);
  });

  it.each([
    ["weight", 0],
    ["weight", "-9.1"],
    ["weight", 999],
    ["height", "8.12"],
    ["height", 1.03],
    ["arm circumference", "14.2"],
  ])("%s %s is set aside, whatever a problem it would be in a small file", async (name, cell) => {
    const survey = await surveyOf(many(60, name, { 7: cell }));
    const column = { weight: survey.weight, height: survey.height, "arm circumference": survey.arm }[name];
    expect(column?.values[7]).toBeNaN();
    expect(column?.setAside?.[7]).not.toBeNaN();
    expect(column?.step).toBe(name === "arm circumference" ? 1 : 0.1);
    const written = asWritten(survey);
    expect({ weight: written.weight, height: written.height, "arm circumference": written.arm }[name]?.values[7]).toBe(
      column?.setAside?.[7],
    );
  });

  it("of the column's unit, as the column's unit is", async () => {
    const grams = Object.fromEntries(
      Array.from({ length: 60 }, (_, i) => [i, i === 7 ? "9.1" : Number(children.weight?.[i % 6]) * 1000]),
    );
    const survey = await surveyOf(many(60, "weight", grams));
    expect(survey.weight?.setAside?.[7]).toBeCloseTo(0.0091, 9);
    expect(survey.weight?.values[8]).toBe(children.weight?.[2]);
  });

  it("weight and height in each other's place: both, also where one of them could be", async () => {
    const columns = many(60, "weight", { 7: 55 });
    (columns.height as (string | number)[])[7] = 4.5;
    const survey = await surveyOf(columns);
    expect([survey.weight?.values[7], survey.height?.values[7]]).toEqual([Number.NaN, Number.NaN]);
    expect([survey.weight?.setAside?.[7], survey.height?.setAside?.[7]]).toEqual([55, 4.5]);
    // A height whose decimal point slipped stands beside a weight that is larger, and says nothing of it.
    const slipped = await surveyOf(many(60, "height", { 7: "8.12" }));
    expect(slipped.weight?.values[7]).toBe(children.weight?.[1]);
  });

  it("swapped rows that are more stay a problem", async () => {
    const columns = many(60, "weight", { 7: 55, 8: 56 });
    (columns.height as (string | number)[]).splice(7, 2, 40, 41);
    expect(kinds(await describeProblems(columns))).toEqual(["row-swapped", "row-swapped"]);
  });

  it("a birth after the interview, or of a grown-up: the age is unknown", async () => {
    for (const birth of ["2026-05-13", "1994-05-13"]) {
      const survey = await surveyOf(many(60, "birth date", { 7: birth }));
      expect(survey.birthDay?.[7]).toBeNaN();
      expect(survey.ageSetAside?.birthDay?.[7]).toBe(Date.parse(birth) / 86_400_000);
      expect(notes(survey)).toEqual([{ role: "birth-date", count: 1 }]);
    }
  });

  it("an age of 216 months or more, or below nought; an age just outside the survey's is left to it", async () => {
    const ages = { "birth date": [], "age months": Array.from({ length: 60 }, (_, i) => 10 + (i % 40)) };
    const { "birth date": _, ...rest } = many(60, "weight", {});
    const withAges = (age: number): Columns => ({
      ...rest,
      "age months": ages["age months"].map((own, i) => (i === 7 ? age : own)),
    });
    for (const age of [216, 400, -3]) {
      const survey = await surveyOf(withAges(age));
      expect([survey.ageMonths?.[7], survey.ageSetAside?.ageMonths?.[7]]).toEqual([Number.NaN, age]);
    }
    const old = await surveyOf(withAges(90));
    expect([old.ageMonths?.[7], old.ageSetAside]).toEqual([90, null]);
  });
});
