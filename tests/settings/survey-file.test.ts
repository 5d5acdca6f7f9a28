import { describe, expect, it } from "vitest";
import { dataFileOf, namedColumns, parseSurveyFile, roleSpecs } from "../../src/settings/survey-file.js";
import { surveyFileJsonSchema } from "../../src/settings/survey-schema.js";
import { kinds, problemsOf } from "../columns/make-table.js";

const parse = (text: string) => parseSurveyFile(text, "survey.yaml");

describe("survey.yaml", () => {
  it("takes a role as a name or as a mapping", () => {
    const survey = parse(`
data: survey.csv
missing-codes: [NA, 999]
columns:
  cluster: grappe
  weight: { column: poids, unit: g, decimal: comma, missing: 9999 }
  sex: { column: sexe, codes: { male: [1, "01"], female: 2 } }
  birth-date: { column: ddn, date-order: day-month-year }
`);
    const specs = roleSpecs(survey.values);
    expect(specs.get("cluster")).toEqual({ column: "grappe", missing: ["NA", "999"] });
    expect(specs.get("weight")).toEqual({
      column: "poids",
      unit: "g",
      decimal: "comma",
      missing: ["NA", "999", "9999"],
    });
    expect(specs.get("sex")?.codes).toEqual({ male: ["1", "01"], female: ["2"] });
    expect(specs.get("birth-date")?.dateOrder).toBe("day-month-year");
  });

  it("knows the line of every key", () => {
    const survey = parse(
      "title: A\ndata: a.csv\ncolumns:\n  sex: s\n  weight:\n    column: w\nsubgroups:\n  - x\n  - y\n",
    );
    expect(survey.lineOf(["columns", "sex"])).toBe(4);
    expect(survey.lineOf(["columns", "weight", "column"])).toBe(6);
    expect(survey.lineOf(["subgroups", 1])).toBe(9);
    expect(survey.lineOf(["columns", "height"])).toBe(3);
  });

  it("says which columns have to be read", () => {
    const survey = parse("data: a.csv\ncolumns:\n  sex: s\n  weight: { column: w }\nsubgroups: [x]\n");
    expect(namedColumns(survey)).toEqual(new Set(["s", "w", "x"]));
    expect(namedColumns(parse("data: a.csv\nsubgroups: [x]\n"))).toBeNull();
    expect(dataFileOf(parse('data: { file: a.csv, delimiter: ";" }\n'))).toEqual({ path: "a.csv", delimiter: ";" });
  });

  it("names the line of a misspelt key and what was meant, at every level", async () => {
    const problems = await problemsOf(() =>
      parse(
        "titel: A\ndata: a.csv\ncolumns:\n  wieght: w\n  height:\n    column: h\n    units: cm\nages:\n  form: 6\n",
      ),
    );
    expect(problems.map(({ kind, line, value, details }) => [kind, line, value, details?.suggestion])).toEqual(
      expect.arrayContaining([
        ["settings-unknown-key", 1, "titel", "title"],
        ["settings-unknown-key", 4, "wieght", "weight"],
        ["settings-unknown-key", 7, "units", "unit"],
        ["settings-unknown-key", 9, "form", "from"],
      ]),
    );
    expect(problems).toHaveLength(4);
  });

  it("suggests nothing where nothing is near", async () => {
    const [problem] = await problemsOf(() => parse("data: a.csv\nqqqqq: 1\n"));
    expect(problem?.details?.suggestion).toBe("none");
  });

  it.each([
    ["data: a.csv\nages: { from: 6, to: 72 }\n", "settings-out-of-range", 2, { limit: 59, side: "most" }],
    ["data: a.csv\nages: { from: -1 }\n", "settings-out-of-range", 2, { limit: 0, side: "least" }],
    ["data: a.csv\nages: { from: 1.5 }\n", "settings-wrong-type", 2, { wanted: "wholeNumber" }],
    ["data: a.csv\ntitle: [a]\n", "settings-wrong-type", 2, { wanted: "text" }],
    ["data: a.csv\ncolumns:\n  weight: 5\n", "settings-wrong-type", 3, { wanted: "textOrMapping" }],
    ["data: a.csv\ncolumns:\n  weight: { unit: kg }\n", "settings-missing-key", 3, undefined],
    [
      "data: a.csv\ncolumns:\n  weight:\n    column: w\n    unit: lb\n",
      "settings-not-an-option",
      5,
      { options: ["kg", "g"] },
    ],
    [
      "data: a.csv\nexclusions: { default: none }\n",
      "settings-not-an-option",
      2,
      { options: ["fixed", "around-mean"] },
    ],
    ["title: A\n", "settings-missing-key", 1, undefined],
    ["", "settings-wrong-type", 1, { wanted: "mapping" }],
    ["- a\n- b\n", "settings-wrong-type", 1, { wanted: "mapping" }],
    ["data: a.csv\nages: { from: 24, to: 6 }\n", "settings-ages-reversed", 2, { from: 24, to: 6 }],
    [
      "data: a.csv\ncolumns:\n  weight: a\n  height: a\n",
      "settings-column-twice",
      4,
      { first: "weight", second: "height" },
    ],
    [
      "data: a.csv\ncolumns:\n  sex:\n    column: s\n    codes: { male: [1, 2], female: [2] }\n",
      "settings-code-twice",
      3,
      undefined,
    ],
    ["data: a.csv\ntitle: A\n  b: c\n", "settings-syntax", 2, undefined],
    ["data: a.csv\ndata: b.csv\n", "settings-syntax", 2, undefined],
  ])("refuses %j as %s", async (text, kind, line, details) => {
    const problems = await problemsOf(() => parse(text));
    expect(kinds(problems)).toContain(kind);
    const problem = problems.find((found) => found.kind === kind);
    expect(problem?.line).toBe(line);
    if (details !== undefined) expect(problem?.details).toMatchObject(details);
  });

  it("refuses the draft's question marks, each with its line, and says nothing twice about them", async () => {
    const problems = await problemsOf(() =>
      parse(
        'data: a.csv\ncolumns:\n  sex: "?"\n  weight:\n    column: w\n    unit: "?"\n  birth-date:\n    column: "?"\n',
      ),
    );
    expect(problems.map(({ kind, line, value }) => [kind, line, value])).toEqual([
      ["settings-unanswered", 3, "columns > sex"],
      ["settings-unanswered", 6, "columns > weight > unit"],
      ["settings-unanswered", 8, "columns > birth-date > column"],
    ]);
  });

  it("refuses aliases that unfold without end", async () => {
    const bomb = [
      "a: &a [1,1,1,1,1,1,1,1,1,1]",
      ...[..."bcdefgh"].map((key, i) => {
        const before = "abcdefg"[i];
        return `${key}: &${key} [${Array(10).fill(`*${before}`).join(",")}]`;
      }),
    ].join("\n");
    expect(kinds(await problemsOf(() => parse(bomb)))).toEqual(["settings-syntax"]);
  });

  it("has a JSON Schema that is closed at every level", () => {
    const open: string[] = [];
    const walk = (schema: unknown, path: string): void => {
      if (typeof schema !== "object" || schema === null) return;
      const node = schema as Record<string, unknown>;
      if (node.properties !== undefined && node.additionalProperties !== false) open.push(path);
      for (const [key, value] of Object.entries(node)) walk(value, `${path}/${key}`);
    };
    const schema = surveyFileJsonSchema();
    walk(schema, "");
    expect(open).toEqual([]);
    expect(schema.required).toEqual(["data"]);
    expect(schema.$schema).toBe("https://json-schema.org/draft/2020-12/schema");
  });
});
