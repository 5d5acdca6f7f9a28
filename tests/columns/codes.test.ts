import { describe, expect, it } from "vitest";
import { isCodeLike, publicLabels } from "../../src/columns/labels.js";
import { children, describeProblems, kinds, surveyOf } from "./make-table.js";

const replaced = (name: string, cells: readonly (string | number)[]) => ({ ...children, [name]: cells });
const noteIds = (survey: { settings: { notes: readonly { id: string }[] } }) =>
  survey.settings.notes.map((note) => note.id);

describe("sex", () => {
  // 1 male, 2 female, 0 missing.
  it.each([
    [
      ["m", "f", "M", "F", "m", ""],
      [1, 2, 1, 2, 1, 0],
    ],
    [
      ["male", "Female", "MALE", "female", "na", "male"],
      [1, 2, 1, 2, 0, 1],
    ],
    [
      ["boy", "girl", "Boys", "girls", "boy", "girl"],
      [1, 2, 1, 2, 1, 2],
    ],
    [
      ["b", "g", "b", "g", "b", "g"],
      [1, 2, 1, 2, 1, 2],
    ],
    [
      ["garçon", "fille", "Garcon", "FILLE", "garçon", "fille"],
      [1, 2, 1, 2, 1, 2],
    ],
    [
      ["g", "f", "g", "f", "g", "f"],
      [1, 2, 1, 2, 1, 2],
    ],
    [
      ["Masculin", "Féminin", "masculin", "féminin", "Masculin", "Féminin"],
      [1, 2, 1, 2, 1, 2],
    ],
    // Spanish: h for hombre, m for mujer.
    [
      ["h", "m", "h", "m", "h", "m"],
      [1, 2, 1, 2, 1, 2],
    ],
    [
      ["hombre", "mujer", "niño", "niña", "varón", "hembra"],
      [1, 2, 1, 2, 1, 2],
    ],
    [
      ["homem", "mulher", "menino", "menina", "masculino", "feminino"],
      [1, 2, 1, 2, 1, 2],
    ],
    [
      ["ذكر", "أنثى", "ذكر", "أنثى", "ولد", "بنت"],
      [1, 2, 1, 2, 1, 2],
    ],
    [
      ["h", "f", "h", "f", "h", "f"],
      [1, 2, 1, 2, 1, 2],
    ],
    [
      ["1", "2", "1.0", "2", "1", "2"],
      [1, 2, 1, 2, 1, 2],
    ],
    [
      ["0", "2", "1", "9", "1", "2"],
      [0, 2, 1, 0, 1, 2],
    ],
  ])("%j", async (cells, codes) => {
    expect([...(await surveyOf(replaced("sex", cells))).sex]).toEqual(codes);
  });

  it("says when it was read by the numbers of ISO/IEC 5218", async () => {
    expect(noteIds(await surveyOf(replaced("sex", [1, 2, 1, 2, 1, 2])))).toContain("input.note.sex-iso-5218");
    expect(noteIds(await surveyOf(children))).not.toContain("input.note.sex-iso-5218");
  });

  it.each([
    ["0 and 1", [0, 1, 0, 1, 0, 1]],
    // Alone, m is a boy in English and a girl in Spanish.
    ["m alone", ["m", "m", "m", "m", "m", "m"]],
    ["letters of no set", ["x", "y", "x", "y", "x", "y"]],
  ])("is asked for: %s", async (_, cells) => {
    const [problem, ...more] = await describeProblems(replaced("sex", cells));
    expect(more).toEqual([]);
    expect(problem).toMatchObject({
      kind: "codes-unclear",
      column: "sex",
      details: { role: "sex", options: ["male", "female"] },
    });
  });

  it("names every code that is not understood, with its first row and its count", async () => {
    const problems = await describeProblems(replaced("sex", ["m", "f", "?", "f", "?", "boy or girl"]));
    expect(problems.map(({ kind, row, value, count }) => [kind, row, value, count])).toEqual([
      ["unknown-code", 4, "?", 2],
      ["unknown-code", 7, "boy or girl", 1],
    ]);
  });

  it("lists every value in the question, also one that could mean 'not known'", async () => {
    const problems = await describeProblems(replaced("sex", [0, 1, 0, 1, "", 1]));
    expect(problems).toMatchObject([{ kind: "codes-unclear", details: { values: ["0", "1"], distinct: 2 } }]);
  });

  it("is read by the codes that the settings state, and by no others", async () => {
    const settings = (codes: string) =>
      `data: data.csv\ncolumns:\n  sex: { column: sex, codes: ${codes}, missing: [8] }\n  weight: weight\n  height: height\n`;
    const cells = replaced("sex", [0, 1, "01", 8, "0.0", 1]);
    expect([...(await surveyOf(cells, settings("{ male: [0], female: [1] }"))).sex]).toEqual([1, 2, 2, 0, 1, 2]);
    const problems = await describeProblems(cells, settings("{ male: [0] }"));
    expect(problems.map(({ kind, value }) => [kind, value])).toEqual([
      ["unknown-code", "1"],
      ["unknown-code", "01"],
    ]);
  });
});

describe("position", () => {
  it.each([
    [
      ["lying", "standing", "Lying down", "stand", "", "lying"],
      [1, 2, 1, 2, 0, 1],
    ],
    [
      ["l", "h", "l", "h", "L", "H"],
      [1, 2, 1, 2, 1, 2],
    ],
    [
      ["L", "S", "L", "S", "L", "S"],
      [1, 2, 1, 2, 1, 2],
    ],
    [
      ["couché", "debout", "Allongé", "debout", "couché", "debout"],
      [1, 2, 1, 2, 1, 2],
    ],
    [
      ["c", "d", "c", "d", "c", "d"],
      [1, 2, 1, 2, 1, 2],
    ],
    [
      ["deitado", "em pé", "deitada", "em pé", "deitado", "em pé"],
      [1, 2, 1, 2, 1, 2],
    ],
    [
      ["d", "p", "d", "p", "d", "p"],
      [1, 2, 1, 2, 1, 2],
    ],
    [
      ["recumbent", "length", "height", "upright", "supine", "de pie"],
      [1, 1, 2, 2, 1, 2],
    ],
  ])("%j", async (cells, codes) => {
    expect([...((await surveyOf(replaced("position", cells))).position ?? [])]).toEqual(codes);
  });

  it("is asked for where 1 and 2 could be either", async () => {
    expect(kinds(await describeProblems(replaced("position", [1, 2, 1, 2, 1, 2])))).toEqual(["codes-unclear"]);
  });
});

describe("oedema", () => {
  // 0 absent, 1 present, 2 not recorded.
  it.each([
    [
      ["y", "n", "n", "n", "", "Y"],
      [1, 0, 0, 0, 2, 1],
    ],
    [
      ["oui", "non", "o", "n", "non", "non"],
      [1, 0, 1, 0, 0, 0],
    ],
    [
      ["sí", "no", "no", "si", "no", "no"],
      [1, 0, 0, 1, 0, 0],
    ],
    [
      ["sim", "não", "não", "sim", "não", "não"],
      [1, 0, 0, 1, 0, 0],
    ],
    [
      ["1", "0", "0", "0", "0", "0"],
      [1, 0, 0, 0, 0, 0],
    ],
    [
      ["0", "0", "0", "0", "0", "0"],
      [0, 0, 0, 0, 0, 0],
    ],
    [
      ["n", "n", "n", "n", "n", "n"],
      [0, 0, 0, 0, 0, 0],
    ],
    [
      ["+", "++", "no", "no", "no", "+++"],
      [1, 1, 0, 0, 0, 1],
    ],
    [
      ["نعم", "لا", "لا", "لا", "لا", "لا"],
      [1, 0, 0, 0, 0, 0],
    ],
  ])("%j", async (cells, codes) => {
    expect([...((await surveyOf(replaced("oedema", cells))).oedema ?? [])]).toEqual(codes);
  });

  it.each([[[1, 2, 2, 2, 2, 2]], [[1, 1, 1, 1, 1, 1]]])("is asked for: %j", async (cells) => {
    expect(kinds(await describeProblems(replaced("oedema", cells)))).toEqual(["codes-unclear"]);
  });
});

describe("a code for 'not recorded'", () => {
  it.each([9, 99, -9, 8, 999])("is taken for one where the other values are understood: %s", async (code) => {
    const problems = await describeProblems(replaced("oedema", ["n", "y", code, "n", code, "n"]));
    expect(problems).toMatchObject([{ kind: "missing-code-likely", row: 4, value: String(code), count: 2 }]);
  });

  it.each([3, 7, 98, "x"])("is not any other value: %s", async (code) => {
    expect(kinds(await describeProblems(replaced("oedema", ["n", "y", code, "n", "n", "n"])))).toEqual([
      "unknown-code",
    ]);
  });
});

describe("how the age is known", () => {
  it("becomes two categories, and nothing of the file's own texts", async () => {
    const survey = await surveyOf(
      replaced("age source", ["card", "calendar", "", "birth certificate", "recall", "unknown"]),
    );
    expect(survey.ageKnownHow?.labels).toEqual(["documented", "recalled"]);
    expect([...(survey.ageKnownHow?.codes ?? [])]).toEqual([0, 1, -1, 0, 1, -1]);
  });

  it("is left out with a note when it was guessed and not understood, and asked for when it was named", async () => {
    const cells = replaced("age source", ["aa", "bb", "aa", "bb", "aa", "bb"]);
    const survey = await surveyOf(cells);
    expect(survey.ageKnownHow).toBeNull();
    expect(survey.settings.notes).toContainEqual({
      id: "input.note.role-left-out",
      values: { role: "age-known-how", candidates: 1 },
    });
    const settings =
      "data: data.csv\ncolumns:\n  sex: sex\n  weight: weight\n  height: height\n  age-known-how: age source\n";
    expect(kinds(await describeProblems(cells, settings))).toEqual(["codes-unclear"]);
  });
});

describe("labels", () => {
  it.each([
    "1",
    "14",
    "T3",
    "team 2",
    "Équipe 4",
    "A",
    "B-12",
    "C07",
    "12/3",
    "GRAPPE 101",
    "101a",
    "team B",
    "عنقود 7",
  ])("%s is a code", (label) => expect(isCodeLike(label)).toBe(true));
  it.each([
    "Ali",
    "AB",
    "Amina 2",
    "<script>alert(1)</script>",
    "=cmd|' /C calc'!A0",
    "0612345678",
    "team Ali",
    "Village 3",
    "@SUM(A1)",
    "-1+2",
    "",
  ])("%s is none", (label) => expect(isCodeLike(label)).toBe(false));

  it("replaces what is no code by the next free letter and never makes two labels one", () => {
    const shown = publicLabels(["A", "Amina", "T2", "b", "<script>", "=cmd"]);
    expect(shown).toEqual({ labels: ["A", "C", "T2", "b", "D", "E"], disguised: true });
    const many = publicLabels(Array.from({ length: 800 }, (_, i) => `Village of ${i}`));
    expect(new Set(many.labels).size).toBe(800);
    expect(many.labels[26]).toBe("AA");
    expect(publicLabels(["1", "2"]).disguised).toBe(false);
  });

  it("keeps areas, strata and the user's own columns as they are, and disguises teams and clusters", async () => {
    const survey = await surveyOf(
      {
        ...children,
        team: ["=cmd", "<b>x</b>", "=cmd", "T1", "", "T1"],
        area: ["<b>North</b>", "South", "South", "South", "South", "South"],
        stratum: ["Upper valley", "Coast", "Coast", "Coast", "Coast", "Coast"],
        water: ["pump", "river", "pump", "NA", "pump", "river"],
      },
      "data: data.csv\nsubgroups: [water]\n",
    );
    expect(survey.team?.labels).toEqual(["T1", "=cmd", "<b>x</b>"]);
    expect(survey.team?.publicLabels).toEqual(["T1", "A", "B"]);
    expect([...(survey.team?.codes ?? [])]).toEqual([1, 2, 1, 0, -1, 0]);
    expect(survey.area?.publicLabels).toEqual(["<b>North</b>", "South"]);
    expect(survey.stratum?.publicLabels).toEqual(["Coast", "Upper valley"]);
    expect(survey.subgroups.map(({ name, labels }) => [name, labels])).toEqual([["water", ["pump", "river"]]]);
    expect([...(survey.subgroups[0]?.codes ?? [])]).toEqual([0, 1, 0, -1, 0, 1]);
  });
});
