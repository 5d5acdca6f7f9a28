import { describe, expect, it } from "vitest";
import { describe as describeTable } from "../../src/describe/describe.js";
import { guessRoles } from "../../src/describe/guess.js";
import { InputError } from "../../src/settings/problems.js";
import { parseSurveyFile } from "../../src/settings/survey-file.js";
import { tableOf } from "../columns/make-table.js";

const rows = 300;
const column = (of: (row: number) => string): string[] => Array.from({ length: rows }, (_, row) => of(row));

const measures = {
  sex: column((row) => (row % 2 === 0 ? "m" : "f")),
  age_months: column((row) => String(6 + (row % 54))),
  weight_kg: column((row) => (8 + (row % 70) / 10).toFixed(1)),
  height_cm: column((row) => (70 + (row % 70) / 3).toFixed(1)),
};

const places: Readonly<Record<string, readonly string[]>> = {
  "telephone numbers": column((row) => `0799 55${String(row).padStart(4, "0")}`),
  dates: column((row) => `2024-10-${String(1 + (row % 28)).padStart(2, "0")}`),
  "names of people": column((row) => `Zq${row}mina Zq${row}`),
  "many small places": column((row) => `place ${row % 40}`),
};

const withArea = (values: readonly string[]) => tableOf({ ...measures, district: [...values] });

describe("a column named like an area", () => {
  it.each(Object.keys(places))("that holds %s is asked for, with no value shown", async (name) => {
    const { guesses, questions } = guessRoles(await withArea(places[name] ?? []));
    expect(guesses.has("area")).toBe(false);
    expect(questions.find(({ role }) => role === "area")?.candidates).toEqual([{ column: "district", samples: [] }]);
  });

  it("that holds a few large groups is taken", async () => {
    const { guesses } = guessRoles(await withArea(column((row) => `district ${row % 3}`)));
    expect(guesses.get("area")?.column).toBe("district");
  });

  it("is left out, and said, where nobody is asked", async () => {
    const survey = describeTable(await withArea(places["names of people"] ?? []), null);
    expect(survey.area).toBeNull();
    expect(survey.settings.notes.map(({ id }) => id)).toContain("input.note.role-left-out");
  });
});

describe("a column that settings name for subgroups", () => {
  const settings = parseSurveyFile(
    "name: s\ndata: s.csv\ncolumns: {sex: sex, age-months: age_months, weight: weight_kg, height: height_cm}\nsubgroups: [district]\n",
    "s.yaml",
  );

  it.each(["telephone numbers", "names of people"])("is refused where it holds %s", async (name) => {
    let thrown: unknown;
    try {
      describeTable(await withArea(places[name] ?? []), settings);
    } catch (error) {
      thrown = error;
    }
    expect(thrown).toBeInstanceOf(InputError);
    expect((thrown as InputError).problems.map(({ kind, column: named }) => [kind, named])).toEqual([
      ["column-tells-of-people", "district"],
    ]);
  });

  it("is used where it holds groups, small ones too: the report withholds those", async () => {
    const survey = describeTable(await withArea(places["many small places"] ?? []), settings);
    expect(survey.subgroups.map(({ name }) => name)).toEqual(["district"]);
  });
});

describe("codes in place of labels", () => {
  it("replace the same labels in another column that is printed", async () => {
    const team = column((row) => `Zq${row % 4}`);
    const table = await tableOf({ ...measures, team, shift: team.map((own, row) => (row % 50 === 0 ? "late" : own)) });
    const settings = parseSurveyFile(
      "name: s\ndata: s.csv\ncolumns: {sex: sex, age-months: age_months, weight: weight_kg, height: height_cm, team: team}\nsubgroups: [shift]\nprivacy: {teams: codes}\n",
      "s.yaml",
    );
    const [shift] = describeTable(table, settings).subgroups;
    expect(shift?.publicLabels.filter((label) => label.startsWith("Zq"))).toEqual([]);
    expect(shift?.publicLabels).toContain("late");
  });
});
