import { describe, expect, it } from "vitest";
import { parseNumber } from "../../src/columns/numbers.js";
import { children, describeProblems, kinds, surveyOf } from "./make-table.js";

const replaced = (name: string, cells: readonly (string | number)[]) => ({ ...children, [name]: cells });
const settingsFor = (weight: string, more = "") =>
  `data: data.csv\ncolumns:\n  sex: sex\n  interview-date: interview date\n  birth-date: birth date\n  height: height\n  weight: ${weight}\n${more}`;

describe("a number", () => {
  it.each([
    ["12.5", 12.5],
    ["12,5", 12.5],
    ["-3", -3],
    ["+3.0", 3],
    [".5", 0.5],
    ["1.2E+1", 12],
    ["١٢٫٥", 12.5],
    ["۱۲", 12],
    ["−2", -2],
  ])("%s is %d", (text, number) => expect(parseNumber(text)).toBe(number));

  it.each(["", "12.5kg", "12 5", "1.234,5", "1,234.5", "12.", "NaN", "Infinity", "0x10", "--", "1e9999"])(
    "%j is none",
    (text) => expect(parseNumber(text)).toBeNaN(),
  );
});

describe("units", () => {
  it("finds kilograms, centimetres and millimetres, and says so", async () => {
    const survey = await surveyOf(children);
    expect([...(survey.weight?.values ?? [])]).toEqual([10.4, 12.1, 5.9, 14.2, 15.6, 9]);
    expect([...(survey.height?.values ?? [])]).toEqual([79.5, 91.2, 60.3, 97, 102.4, 74.1]);
    expect([...(survey.arm?.values ?? [])]).toEqual([142, 148, 131, 155, 158, 139]);
    const units = survey.settings.notes
      .filter((note) => note.id === "input.note.unit-found")
      .map((note) => note.values);
    expect(units).toEqual([
      { role: "weight", unit: "kg" },
      { role: "height", unit: "cm" },
      { role: "arm-circumference", unit: "mm" },
    ]);
  });

  it("converts grams, metres, millimetres and centimetres without leaving binary noise", async () => {
    const survey = await surveyOf({
      ...children,
      weight: [10400, 12100, 5900, 14200, 15600, 9000],
      height: ["0.795", "0.912", "0.603", "0.97", "1.024", "0.741"],
      "arm circumference": [14.2, 14.8, 13.1, 15.5, 15.8, 13.9],
    });
    expect([...(survey.weight?.values ?? [])]).toEqual([10.4, 12.1, 5.9, 14.2, 15.6, 9]);
    expect([...(survey.height?.values ?? [])]).toEqual([79.5, 91.2, 60.3, 97, 102.4, 74.1]);
    expect([...(survey.arm?.values ?? [])]).toEqual([142, 148, 131, 155, 158, 139]);
    const millimetres = await surveyOf(replaced("height", [795, 912, 603, 970, 1024, 741]));
    expect([...(millimetres.height?.values ?? [])]).toEqual([79.5, 91.2, 60.3, 97, 102.4, 74.1]);
  });

  it("names each value of another unit, with its row", async () => {
    const problems = await describeProblems(replaced("weight", [10.4, 12100, 5.9, 14.2, 15600, 9]));
    expect(problems.map(({ kind, row, value, details }) => [kind, row, value, details?.usual, details?.found])).toEqual(
      [
        ["units-mixed", 3, "12100", "kg", "g"],
        ["units-mixed", 6, "15600", "kg", "g"],
      ],
    );
  });

  it("asks where no unit fits most values, and where the stated one contradicts them", async () => {
    const unclear = await describeProblems(replaced("weight", [200, 300, 250, 320, 280, 260]));
    expect(kinds(unclear)).toContain("unit-unclear");
    const [contradicted] = await describeProblems(children, settingsFor("{ column: weight, unit: g }"));
    expect(contradicted).toMatchObject({ kind: "unit-contradicted", details: { stated: "g", found: "kg", share: 1 } });
  });

  it.each([
    [{ weight: children.height ?? [], height: children.weight ?? [] }, "columns-swapped"],
    [{ weight: [10.4, 12.1, 60.3, 14.2, 15.6, 9], height: [79.5, 91.2, 5.9, 97, 102.4, 74.1] }, "row-swapped"],
  ])("finds weight and height swapped: %#", async (columns, kind) => {
    const problems = await describeProblems({ ...children, ...columns });
    expect(kinds(problems)).toEqual([kind]);
    if (kind === "row-swapped")
      expect(problems[0]).toMatchObject({ row: 4, details: { weight: "60.3", height: "5.9" } });
  });
});

describe("the step a column was written in", () => {
  const stepOf = async (cells: readonly (string | number)[]) => {
    const repeated = Object.fromEntries(
      Object.entries(children).map(([name, values]) => [
        name,
        cells.map((_, row) => values[row % values.length] ?? ""),
      ]),
    );
    const height =
      cells.length < 50 ? (repeated.height ?? []) : cells.map((weight) => (50 + 3 * Number(weight)).toFixed(1));
    return (await surveyOf({ ...repeated, weight: cells, height })).weight?.step;
  };

  it.each([
    [[10.4, 12.1, 5.9, 14.2, 15.6, 9], 0.1],
    [[10.45, 12.1, 5.9, 14.2, 15.6, 9], 0.01],
    [[10, 12, 5, 14, 15, 9], 1],
    [["10.0", "12.0", "5.0", "14.0", "15.0", "9.0"], 1],
    [[10400, 12100, 5900, 14200, 15600, 9000], 0.1],
    [[10450, 12100, 5900, 14200, 15600, 9000], 0.01],
    [[10454, 12100, 5900, 14200, 15600, 9000], 0.001],
    [["10.299999999999999", 12.1, 5.9, 14.2, 15.6, 9], 0.1],
  ])("%j is %d kg", async (cells, step) => expect(await stepOf(cells)).toBe(step));

  it("is not made finer by fewer than one value in a hundred", async () => {
    const cells = Array.from({ length: 400 }, (_, i) => (i % 100) / 10 + 5);
    expect(await stepOf([...cells.slice(3), 10.25, 10.75, 11.25])).toBe(0.1);
    expect(await stepOf([...cells.slice(4), 10.25, 10.75, 11.25, 11.35])).toBe(0.01);
  });
});

describe("the decimal sign", () => {
  it("is a comma for a whole column", async () => {
    const survey = await surveyOf(replaced("weight", ["10,4", "12,1", "5,9", "14,2", "15,6", "9"]));
    expect([...(survey.weight?.values ?? [])]).toEqual([10.4, 12.1, 5.9, 14.2, 15.6, 9]);
  });

  it("that parts three digits is asked for where numbers of three digits stand beside it, and not where it can only be decimal", async () => {
    const thousands = await describeProblems(
      replaced("weight", ["10,400", "12,100", "5,900", "950", "15,600", "9,000"]),
    );
    expect(kinds(thousands)).toContain("thousands-unclear");
    const arms = await surveyOf(replaced("arm circumference", ["142.125", "148.250", 131, 155, "158.125", 139]));
    expect(arms.arm?.values[0]).toBe(142.125);
  });

  it("may not change within a column", async () => {
    const problems = await describeProblems(replaced("weight", ["10.4", "12,1", "5.9", "14.2", "15,6", "9"]));
    expect(problems.map(({ kind, row, details }) => [kind, row, details?.point, details?.comma])).toEqual([
      ["mixed-decimal-signs", 3, 3, 2],
      ["mixed-decimal-signs", 6, 3, 2],
    ]);
  });

  it("makes the other sign a problem when it is stated", async () => {
    const cells = replaced("weight", ["10,4", "12,1", "5,9", "14.2", "15,6", "9"]);
    const problems = await describeProblems(cells, settingsFor("{ column: weight, decimal: comma }"));
    expect(problems.map(({ kind, value }) => [kind, value])).toEqual([["not-a-number", "14.2"]]);
  });
});

describe("cells that are no measure", () => {
  it("are all named at once, each distinct value with its count", async () => {
    const problems = await describeProblems(replaced("weight", ["12,5kg", "0", "-4", "0", "refused", "9"]));
    expect(problems.map(({ kind, row, value, count, column }) => [kind, row, value, count, column])).toEqual([
      ["not-a-number", 2, "12,5kg", 1, "weight"],
      ["not-a-number", 6, "refused", 1, "weight"],
      ["zero-measure", 3, "0", 2, "weight"],
      ["negative-measure", 4, "-4", 1, "weight"],
    ]);
  });

  it("are missing when they are empty or one of the usual texts", async () => {
    const survey = await surveyOf(replaced("weight", ["", "NA", "n/a", ".", "-", "9"]));
    expect(survey.weight?.missing).toBe(5);
    expect(survey.weight?.values[5]).toBe(9);
    expect(survey.settings.notes.map((note) => note.id)).not.toContain("input.note.missing-code");
  });

  it("that look like a code for 'not measured' are asked about, and taken once the settings name them", async () => {
    const cells = replaced("weight", [999, 12.1, 5.9, 999, "-9", 9]);
    const problems = await describeProblems(cells);
    expect(problems.map(({ kind, value, count }) => [kind, value, count])).toEqual([
      ["missing-code-likely", "999", 2],
      ["missing-code-likely", "-9", 1],
    ]);
    const survey = await surveyOf(cells, settingsFor("{ column: weight, missing: [999.0, -9] }"));
    expect(survey.weight?.missing).toBe(3);
    expect(survey.settings.notes).toContainEqual({
      id: "input.note.missing-code",
      values: { role: "weight", value: "999", count: 2 },
    });
    const everywhere = await surveyOf(cells, settingsFor("weight", "missing-codes: [999, -9]\n"));
    expect(everywhere.weight?.missing).toBe(3);
  });

  it("leaves 99 cm alone, which is a height", async () => {
    const survey = await surveyOf(replaced("height", [99, 91.2, 60.3, 97, 102.4, 74.1]));
    expect(survey.height?.values[0]).toBe(99);
  });

  it("leaves a value that is only unlikely for the checks", async () => {
    const survey = await surveyOf(replaced("weight", [75, 12.1, 5.9, 14.2, 15.6, 9]));
    expect(survey.weight?.values[0]).toBe(75);
  });

  it("of 20,000 characters are named like any other", async () => {
    const problems = await describeProblems(
      replaced("weight", ["9".repeat(20_000), 12.1, 5.9, "x".repeat(20_000), 15.6, 9]),
    );
    expect(problems.map(({ kind, row }) => [kind, row])).toEqual([
      ["not-a-number", 2],
      ["not-a-number", 5],
    ]);
  });
});

describe("ages and sampling weights", () => {
  const months = (ages: readonly (string | number)[]) => ({
    sex: ages.map(() => "f"),
    weight: ages.map(() => 9),
    "age in months": ages,
  });

  it("keeps ages outside the survey's range for the next step to count", async () => {
    const survey = await surveyOf(months([3, 71, 240]));
    expect([...(survey.ageMonths ?? [])]).toEqual([3, 71, 240]);
  });

  it("names ages below zero and ages that look like years", async () => {
    expect((await describeProblems(months([3, -1, 20]))).map(({ kind, row }) => [kind, row])).toEqual([
      ["negative-age", 3],
    ]);
    const years = Array.from({ length: 12 }, (_, i) => i % 5);
    expect(kinds(await describeProblems(months(years)))).toEqual(["age-in-years"]);
  });

  it("names sampling weights of zero or less", async () => {
    const problems = await describeProblems({ ...children, "sampling weight": [1, 0, -2, 1.5, "", 1] });
    expect(problems.map(({ kind, row }) => [kind, row])).toEqual([
      ["weight-not-positive", 3],
      ["weight-not-positive", 4],
    ]);
  });
});

describe("a total below the data", () => {
  const last = (name: string, cell: string | number) => [...(children[name] ?? []), cell];
  const summed = (cells: Readonly<Record<string, string | number>>) =>
    Object.fromEntries(Object.keys(children).map((name) => [name, last(name, cells[name] ?? "")]));

  it.each(["Total", "TOTAUX", "Grand total", "suma", "المجموع"])(
    "is named as such and not as a child: %s",
    async (word) => {
      const problems = await describeProblems(summed({ cluster: word, weight: 6720.4 }));
      expect(problems).toMatchObject([{ kind: "total-row", row: 8, value: word }]);
    },
  );

  it("is not seen in a child's row, whatever its cluster is called", async () => {
    const survey = await surveyOf(summed({ cluster: "Total", sex: "f", weight: 10.1, height: 80 }));
    expect(survey.rowCount).toBe(7);
  });

  it("leaves what is wrong in other rows to be named", async () => {
    const columns = summed({ cluster: "Total", weight: 6720.4 });
    const problems = await describeProblems({ ...columns, weight: ["x", ...(columns.weight ?? []).slice(1)] });
    expect(problems.map(({ kind, row }) => [kind, row])).toEqual([
      ["total-row", 8],
      ["not-a-number", 2],
    ]);
  });
});
