import { describe, expect, it } from "vitest";
import { isFormColumn, matchName, recognisesName } from "../../src/columns/column-names.js";
import { guessRoles } from "../../src/describe/guess.js";
import { roles } from "../../src/settings/roles.js";
import { type Columns, children, describeProblems, kinds, surveyOf, tableOf } from "../columns/make-table.js";

const rolesOf = (name: string) => matchName(name).map((match) => match.role);

describe("a column name", () => {
  it.each(roles)("that is the role's own name is that role: %s", (role) => {
    expect(matchName(role)).toMatchObject([{ role, rank: 1 }]);
    expect(matchName(`form/${role}`)[0]?.role).toBe(role);
  });

  it.each([
    ["Weight (kg)", "weight"],
    ["childWeight", "weight"],
    ["weight_g", "weight"],
    ["Poids de l'enfant", "weight"],
    ["peso_del_niño", "weight"],
    ["Peso da criança (kg)", "weight"],
    ["الوزن", "weight"],
    ["group_x/group_y/weight", "weight"],
    ["section:height", "height"],
    ["Taille en cm", "height"],
    ["talla", "height"],
    ["الطول", "height"],
    ["MUAC_mm", "arm-circumference"],
    ["périmètre brachial", "arm-circumference"],
    ["Perímetro braquial", "arm-circumference"],
    ["Sexe", "sex"],
    ["child.gender", "sex"],
    ["الجنس", "sex"],
    ["Date de naissance", "birth-date"],
    ["fecha de nacimiento", "birth-date"],
    ["grp-child-date-of-birth", "birth-date"],
    ["DOB", "birth-date"],
    ["تاريخ الميلاد", "birth-date"],
    ["Âge en mois", "age-months"],
    ["edad (meses)", "age-months"],
    ["العمر بالأشهر", "age-months"],
    ["numéro de grappe", "cluster"],
    ["Œdèmes", "oedema"],
    ["edema", "oedema"],
    ["équipe", "team"],
    ["N° équipe", "team"],
    ["data da entrevista", "interview-date"],
    ["visit/today", "interview-date"],
    ["Nro de equipo", "team"],
    ["Núm. conglomerado", "cluster"],
    ["N. grappe", "cluster"],
    ["F. nacimiento", "birth-date"],
    ["F. entrevista", "interview-date"],
    ["Âge (ans)", "age-months"],
    ["Talla (m)", "height"],
    ["Poids mesuré (kilogrammes)", "weight"],
    ["الوزن (كغ)", "weight"],
    ["Circunferencia del brazo", "arm-circumference"],
    ["hora de início", "entry-time"],
    ["heure de saisie", "entry-time"],
    ["Hora de la entrevista", "entry-time"],
    ["data e hora do registo", "entry-time"],
    ["وقت المقابلة", "entry-time"],
    ["start", "entry-time"],
    ["_submission_time", "entry-time"],
    ["âge en jours", "age-months"],
  ])("%s is %s", (name, role) => expect(rolesOf(name)).toEqual([role]));

  it.each([
    "weight consent",
    "overweight",
    "reason_not_weighed",
    "sexual_education",
    "heightened_risk",
    "teamwork",
    "mother/weight",
    "mother-age-months",
    "head_of_household/sex",
    "birth_weight",
    "name",
    "phone",
    "gps",
    "_uuid",
    "meta/instanceID",
    "m",
    "start_of_illness",
    "agenda",
    "days ill",
  ])("%s is no role", (name) => expect(rolesOf(name)).toEqual([]));

  it("of a form's own columns is known as such", () => {
    for (const name of [
      "start",
      "end",
      "deviceid",
      "_id",
      "_uuid",
      "_submission_time",
      "KEY",
      "SubmissionDate",
      "meta/instanceID",
    ]) {
      expect(isFormColumn(name)).toBe(true);
      expect(recognisesName(name)).toBe(true);
    }
    expect(recognisesName("weight")).toBe(true);
    expect(recognisesName("first_name")).toBe(false);
  });
});

describe("guesses", () => {
  it("give each role a reason and sample values, and leave personal columns alone", async () => {
    const table = await tableOf({
      ...children,
      name: ["Ayo", "Bem", "Cal", "Dia", "Emo", "Fay"],
      _uuid: [1, 2, 3, 4, 5, 6],
    });
    const { guesses, questions, formColumns, otherColumns } = guessRoles(table);
    expect(questions).toEqual([]);
    expect(Object.fromEntries([...guesses].map(([role, guess]) => [role, guess.column]))).toEqual({
      cluster: "cluster",
      team: "team",
      "interview-date": "interview date",
      sex: "sex",
      "birth-date": "birth date",
      weight: "weight",
      height: "height",
      "arm-circumference": "arm circumference",
      oedema: "oedema",
    });
    expect(guesses.get("weight")).toMatchObject({
      reason: { id: "input.guess.reason.own-name" },
      samples: ["10.4", "12.1", "5.9"],
    });
    expect(formColumns).toEqual(["_uuid"]);
    expect(otherColumns).toEqual(["name"]);
  });

  it("never let a column without a role into the survey", async () => {
    const survey = await surveyOf({
      ...children,
      name: ["Ayo", "Bem", "Cal", "Dia", "Emo", "Fay"],
      phone: Array(6).fill("0612345678"),
    });
    const text = JSON.stringify(survey, (_, value: unknown) =>
      ArrayBuffer.isView(value) ? [...(value as Float64Array)] : value,
    );
    expect(text).not.toContain("Ayo");
    expect(text).not.toContain("0612345678");
  });

  const renamed = (from: string, to: Columns): Columns => {
    const { [from]: _, ...rest } = children;
    return { ...rest, ...to };
  };

  it("are a question where two columns fit as well", async () => {
    const two = renamed("weight", { "a/weight": children.weight ?? [], "b/weight": children.weight ?? [] });
    const problems = await describeProblems(two);
    expect(problems).toMatchObject([
      { kind: "role-unclear", details: { role: "weight", candidates: ["a/weight", "b/weight"] } },
    ]);
    const alike = await describeProblems({ ...children, "again/Weight (kg)": children.weight ?? [] });
    expect(alike).toMatchObject([
      { kind: "role-unclear", details: { role: "weight", candidates: ["weight", "again/Weight (kg)"] } },
    ]);
    const repeated = renamed("weight", { weight1: children.weight ?? [], weight2: children.weight ?? [] });
    expect(kinds(await describeProblems(repeated))).toEqual(["role-unclear"]);
  });

  it("take the better name, the column with values and the plausible one", async () => {
    const better = await surveyOf({ ...children, wt: [1, 1, 1, 1, 1, 1], "other/weight": Array(6).fill("") });
    expect(better.settings.columns.weight).toBe("weight");
    const filled = await surveyOf(renamed("weight", { "a/weight": [], "b/weight": children.weight ?? [] }));
    expect(filled.settings.columns.weight).toBe("b/weight");
    const plausible = await surveyOf(
      renamed("weight", { "a/weight": Array(6).fill("yes"), "b/weight": children.weight ?? [] }),
    );
    expect(plausible.settings.columns.weight).toBe("b/weight");
    const words = await surveyOf({
      ...children,
      "length or height": ["length", "height", "length", "height", "height", "length"],
    });
    expect(words.settings.columns).toMatchObject({ height: "height", position: "length or height" });
  });

  it("leave out what can be spared where it is unclear, with a note", async () => {
    const survey = await surveyOf({ ...children, region: Array(6).fill("x"), district: Array(6).fill("y") });
    expect(survey.area).toBeNull();
    expect(survey.settings.notes).toContainEqual({
      id: "input.note.role-left-out",
      values: { role: "area", candidates: 2 },
    });
  });

  it("do not take an age in years for months", async () => {
    const { "birth date": _, ...rest } = children;
    const years = { ...rest, age: [1, 2, 0, 3, 4, 1] };
    expect(guessRoles(await tableOf(years)).guesses.has("age-months")).toBe(false);
    const months = { ...rest, age: [20, 35, 3, 42, 49, 16] };
    expect(guessRoles(await tableOf(months)).guesses.get("age-months")?.reason.id).toBe("input.guess.reason.weak-name");
  });

  it("only suggest a column by its values, never take it", async () => {
    const table = await tableOf(renamed("sex", { q3: children.sex ?? [] }));
    const { guesses, questions } = guessRoles(table);
    expect(guesses.has("sex")).toBe(false);
    expect(questions).toMatchObject([
      { role: "sex", from: "values", candidates: [{ column: "q3", samples: ["m", "f"] }] },
    ]);
  });
});

describe("an age", () => {
  const { "birth date": births = [], "interview date": visits = [], ...rest } = children;

  it("in years is no age in months, and is put to the user whatever its name says of months", async () => {
    for (const name of ["age", "age_years", "Edad (años)"]) {
      const table = await tableOf({ ...rest, [name]: [1.7, 2.9, 0.3, 3.5, 4.1, 1.4] });
      const { guesses, questions } = guessRoles(table);
      expect(guesses.has("age-months")).toBe(false);
      expect(questions).toMatchObject([{ role: "age-months", from: "years", candidates: [{ column: name }] }]);
    }
    const problems = await describeProblems({ ...rest, age: [1.7, 2.9, 0.3, 3.5, 4.1, 1.4] });
    expect(problems).toMatchObject([{ kind: "age-in-years", column: "age", details: { highest: 4.1 } }]);
    // A mother's age, said to be in years, is none either, however large.
    const { guesses } = guessRoles(await tableOf({ ...rest, age_years: [21, 29, 33, 35, 41, 24] }));
    expect(guesses.has("age-months")).toBe(false);
  });

  it("that no name speaks of is looked for among the dates, and asked for", async () => {
    const table = await tableOf({ ...rest, d1: births, d2: visits });
    const asked = guessRoles(table).questions.map(({ role, from }) => [role, from]);
    expect(asked).toEqual([
      ["interview-date", "values"],
      ["birth-date", "values"],
    ]);
    const problems = await describeProblems({ ...rest, d1: births, d2: visits });
    expect(problems).toMatchObject([{ kind: "age-missing", details: { candidates: ["d1", "d2"] } }]);
  });

  it("in an empty column is none", async () => {
    const problems = await describeProblems({ ...rest, "age months": [], d1: births, "interview date": visits });
    expect(problems).toMatchObject([{ kind: "age-missing", details: { candidates: ["d1"] } }]);
    expect((await surveyOf({ ...children, "age months": [] })).birthDay).not.toBeNull();
  });

  it("that is known leaves other dates alone", async () => {
    const { questions } = guessRoles(await tableOf({ ...children, d1: births, d2: visits }));
    expect(questions).toEqual([]);
  });
});

describe("lying and standing", () => {
  it("are suggested by whole words and never by letters", async () => {
    const words = { ...children, q9: ["debout", "couché", "debout", "couché", "debout", "debout"] };
    expect(guessRoles(await tableOf(words)).questions).toMatchObject([
      { role: "position", from: "values", candidates: [{ column: "q9" }] },
    ]);
    expect((await surveyOf(words)).position).toBeNull();
    const letters = { ...children, q9: ["a", "p", "a", "p", "a", "a"] };
    expect(guessRoles(await tableOf(letters)).questions).toEqual([]);
  });
});

describe("what a report needs", () => {
  const without = (...names: string[]) =>
    Object.fromEntries(Object.entries(children).filter(([name]) => !names.includes(name)));

  it.each([
    [["sex"], ["role-missing"]],
    [["weight", "height", "arm circumference"], ["measure-missing"]],
    [["birth date", "height"], ["age-missing"]],
    [["interview date", "weight"], ["age-missing"]],
    [
      ["sex", "weight", "height", "arm circumference", "birth date"],
      ["role-missing", "measure-missing", "age-missing"],
    ],
  ])("without %j is %j", async (names, expected) => {
    const problems = await describeProblems(without(...names));
    expect(kinds(problems)).toEqual(expected);
    expect(problems[0]?.details?.columns).toEqual(Object.keys(without(...names)));
  });

  it("is there with weight and height alone, and what is absent is said", async () => {
    const survey = await surveyOf(
      without("birth date", "interview date", "cluster", "oedema", "team", "arm circumference"),
    );
    expect(survey.birthDay).toBeNull();
    expect(survey.cluster).toBeNull();
    const ids = survey.settings.notes.map((note) => note.id);
    expect(ids).toEqual(
      expect.arrayContaining(["input.note.no-cluster", "input.note.no-oedema", "input.note.expectations-assumed"]),
    );
  });

  it("is asked of named columns as well; only those are read", async () => {
    const settings = "data: data.csv\ncolumns:\n  sex: sexx\n  weight: weight\nsubgroups: [water]\n";
    const problems = await describeProblems(children, settings);
    expect(problems.map(({ kind, line, value, details }) => [kind, line, value, details?.suggestion])).toEqual([
      ["column-not-found", 3, "sexx", "sex"],
      ["column-not-found", 5, "water", "none"],
    ]);
    expect(kinds(await describeProblems(children, "data: data.csv\ncolumns:\n  weight: weight\n"))).toEqual([
      "role-missing",
      "age-missing",
    ]);
    const survey = await surveyOf(
      children,
      "data: data.csv\ncolumns:\n  sex: sex\n  weight: weight\n  height: height\n",
    );
    expect(survey.team).toBeNull();
    expect(survey.settings.columns).toEqual({ sex: "sex", weight: "weight", height: "height" });
  });

  it("is met by one child, one cluster and values that are all the same", async () => {
    const one = Object.fromEntries(Object.entries(children).map(([name, cells]) => [name, cells.slice(1, 2)]));
    expect((await surveyOf(one)).rowCount).toBe(1);
    const same = Object.fromEntries(
      Object.entries(children).map(([name, cells]) => [name, cells.map(() => cells[1] ?? "")]),
    );
    const survey = await surveyOf(same);
    expect(survey.cluster?.labels).toEqual(["1"]);
    expect(new Set(survey.weight?.values)).toEqual(new Set([12.1]));
  });
});

describe("settings", () => {
  it("are filled in where the file leaves them out", async () => {
    const { settings } = await surveyOf(children);
    expect(settings).toMatchObject({
      title: "data",
      name: "data",
      language: "en",
      invented: false,
      ageRange: { from: 0, to: 59 },
      ageInMonths: "completed",
      exclusions: { default: "fixed", widthAroundMean: 3 },
      positionRule: "age",
      clustersInPopulation: null,
    });
  });

  it("are taken from the file where it has them", async () => {
    const { settings } = await surveyOf(
      { ...children, stratum: ["N", "N", "N", "S", "S", "S"] },
      `title: Enquête n° 3, été 2026
data: data.csv
invented: true
ages: { from: 6 }
age-in-months: exact
exclusions: { default: around-mean, width-around-mean: 4 }
position-rule: height
expectations: { boys-per-girl: 1.03, under-five-mortality: 80, growth-of-births: 0.03 }
clusters-in-population: { N: 120, S: 80 }
seed: 7
`,
    );
    expect(settings).toMatchObject({
      name: "enquete-n-3-ete-2026",
      invented: true,
      ageRange: { from: 6, to: 59 },
      ageInMonths: "exact",
      exclusions: { default: "around-mean", widthAroundMean: 4 },
      positionRule: "height",
      expectations: { boysPerGirl: 1.03, underFiveMortality: 80, growthOfBirths: 0.03 },
      clustersInPopulation: { N: 120, S: 80 },
      seed: 7,
    });
    expect(settings.notes.map((note) => note.id)).not.toContain("input.note.expectations-assumed");
  });

  it("name a stratum of the population that the data do not have", async () => {
    const problems = await describeProblems(
      { ...children, stratum: ["N", "N", "N", "S", "S", "S"] },
      "data: data.csv\nclusters-in-population:\n  N: 120\n  Sud: 80\n",
    );
    expect(problems).toMatchObject([{ kind: "settings-stratum-unknown", line: 4, value: "Sud" }]);
  });

  it("have a name for the folder that leaves the folder nowhere", async () => {
    const { settings } = await surveyOf(children, "data: data.csv\nname: ../../etc/passwd\n");
    expect(settings.name).toBe("etc-passwd");
    const arabic = await surveyOf(children, "data: data.csv\ntitle: مسح التغذية\n");
    expect(arabic.settings.name).toBe("data");
  });
});
