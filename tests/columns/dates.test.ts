import { describe, expect, it } from "vitest";
import { dayNumber, isoDay, parseDate } from "../../src/columns/dates.js";
import { children, day, describeProblems, kinds, surveyOf } from "./make-table.js";

/** The same survey with the birth dates written otherwise. */
const withBirths = (births: readonly (string | number)[]) => ({ ...children, "birth date": births });
const births = ["2024-05-13", "2023-02-28", "2025-10-01", "2022-07-19", "2021-12-31", "2024-09-02"];

describe("a date", () => {
  it.each([
    ["2026-01-31", "2026-01-31"],
    ["2026/1/31", "2026-01-31"],
    ["2026-01-31T23:59:59.000+03:00", "2026-01-31"],
    ["2026-01-31 00:10", "2026-01-31"],
    ["31-Jan-2026", "2026-01-31"],
    ["31 janvier 2026", "2026-01-31"],
    ["1er févr. 2026", "2026-02-01"],
    ["31 de enero de 2026", "2026-01-31"],
    ["2 de dezembro de 2025", "2025-12-02"],
    ["Jan 31, 2026", "2026-01-31"],
    ["31-Jan-26", "2026-01-31"],
    ["29-Feb-2024", "2024-02-29"],
    ["5 août 2025", "2025-08-05"],
  ])("%s is %s", (text, iso) => {
    expect(parseDate(text)).toEqual({ kind: "day", day: day(iso), serial: false });
  });

  // Microsoft's description of the date systems: 1 January 2008 is 39448 in the 1900 date system. From memory.
  it.each([
    ["39448", "2008-01-01"],
    ["39448.75", "2008-01-01"],
    ["25569", "1970-01-01"],
  ])("a spreadsheet's %s is %s", (text, iso) => {
    expect(parseDate(text)).toEqual({ kind: "day", day: day(iso), serial: true });
  });

  it.each(["2026-02-30", "2025-02-29", "2026-13-01", "31-Feb-2026", "1026-01-31", "0000-00-00"])(
    "%s names no day",
    (text) => {
      expect(parseDate(text)).toEqual({ kind: "impossible" });
    },
  );

  it.each(["", "31", "2026-01", "January 2026", "12:30", "soon", "31 Xyz 2026", "2026-01-31 and more"])(
    "%j is none",
    (text) => {
      expect(parseDate(text)).toBeNull();
    },
  );

  it("goes round the calendar and back for every day from 1950 to 2100", () => {
    for (let n = day("1950-01-01"); n <= day("2100-12-31"); n += 1) {
      const [year = 0, month = 0, date = 0] = isoDay(n).split("-").map(Number);
      if (dayNumber(year, month, date) !== n) throw new Error(isoDay(n));
    }
    expect(dayNumber(26, 1, 31)).toBe(day("2026-01-31"));
    expect(dayNumber(99, 1, 31)).toBe(day("1999-01-31"));
  });
});

describe("a column of dates", () => {
  const dayFirst = births.map((iso) => iso.split("-").reverse().join("/"));
  const monthFirst = births.map((iso) => `${iso.slice(5, 7)}/${iso.slice(8)}/${iso.slice(2, 4)}`);

  it.each([
    ["as year, month, day", births],
    ["day first", dayFirst],
    ["month first with two-digit years", monthFirst],
    ["as a spreadsheet's day numbers", births.map((iso) => day(iso) + 25_569)],
  ])("is read %s", async (_, written) => {
    const survey = await surveyOf(withBirths(written));
    expect([...(survey.birthDay ?? [])]).toEqual(births.map(day));
  });

  it("settles the order by the one cell that can be read in one way only", async () => {
    const survey = await surveyOf(
      withBirths(["03/04/2024", "05/06/2024", "07/08/2024", "09/10/2024", "11/12/2024", "26/06/2024"]),
    );
    expect(survey.birthDay?.[0]).toBe(day("2024-04-03"));
    expect(survey.settings.notes).toContainEqual({
      id: "input.note.date-order-found",
      values: { role: "birth-date", order: "day-month-year" },
    });
  });

  const undecided = ["03/04/2024", "05/06/2024", "07/08/2024", "09/10/2024", "11/12/2024", "02/01/2024"];
  it("may be written in the digits of Arabic or Persian script", async () => {
    const written = ["١٣/٠٥/٢٠٢٤", "٢٨/٠٢/٢٠٢٣", "۰۱/۱۰/۲۰۲۵", "2022-07-19", "٣١ دجنبر", ""];
    const read = await surveyOf({ ...children, "birth date": [...written.slice(0, 4), "", ""] });
    expect([...(read.birthDay ?? [])].slice(0, 4)).toEqual(
      ["2024-05-13", "2023-02-28", "2025-10-01", "2022-07-19"].map(day),
    );
    expect(kinds(await describeProblems({ ...children, "birth date": written }))).toEqual(["not-a-date"]);
  });

  it("asks where no cell decides, with both readings and the key to set", async () => {
    const [problem, ...more] = await describeProblems(withBirths(undecided));
    expect(more).toEqual([]);
    expect(problem).toMatchObject({
      kind: "date-order-unclear",
      column: "birth date",
      row: 2,
      value: "03/04/2024",
      count: 6,
      details: { role: "birth-date", dayFirst: "2024-04-03", monthFirst: "2024-03-04" },
    });
  });

  it("takes the order that the settings state", async () => {
    const settings = (order: string) =>
      `data: data.csv\ncolumns:\n  sex: sex\n  weight: weight\n  height: height\n  interview-date: interview date\n  birth-date: { column: birth date, date-order: ${order} }\n`;
    const first = await surveyOf(withBirths(undecided), settings("day-month-year"));
    expect(first.birthDay?.[0]).toBe(day("2024-04-03"));
    const second = await surveyOf(withBirths(undecided), settings("month-day-year"));
    expect(second.birthDay?.[0]).toBe(day("2024-03-04"));
  });

  it("does not need an order where both readings are the same day", async () => {
    const survey = await surveyOf(withBirths(Array(6).fill("05/05/2024")));
    expect(survey.birthDay?.[0]).toBe(day("2024-05-05"));
  });

  it("names cells that contradict the order of the column", async () => {
    const problems = await describeProblems(
      withBirths(["13/05/2024", "28/02/2023", "19/07/2022", "12/31/2021", "02/09/2024", "01/10/2025"]),
    );
    expect(problems.map(({ kind, row, value }) => [kind, row, value])).toEqual([["date-order-mixed", 5, "12/31/2021"]]);
  });

  it("names day numbers among written dates", async () => {
    const problems = await describeProblems(
      withBirths(["13/05/2024", "28/02/2023", 45_000, "19/07/2022", "31/12/2021", "02/09/2024"]),
    );
    expect(problems.map(({ kind, row }) => [kind, row])).toEqual([["date-forms-mixed", 4]]);
  });
});

describe("bad dates", () => {
  it("names impossible dates, texts and births after the interview together", async () => {
    const problems = await describeProblems(
      withBirths(["2024-02-30", "unknown", "2026-01-22", "31/13/2024", "", "NA"]),
    );
    expect(problems.map(({ kind, row, value }) => [kind, row, value])).toEqual([
      ["impossible-date", 2, "2024-02-30"],
      ["not-a-date", 3, "unknown"],
      ["impossible-date", 5, "31/13/2024"],
      ["birth-after-interview", 4, "2026-01-22"],
    ]);
  });

  it("names dates after the day of the run, when that day is given", async () => {
    const problems = await describeProblems(children, null, { today: day("2026-01-21") });
    expect(problems.map(({ kind, row, column }) => [kind, row, column])).toEqual([
      ["future-date", 6, "interview date"],
      ["future-date", 7, "interview date"],
    ]);
    expect((await surveyOf(children)).rowCount).toBe(6);
  });

  it("counts rows with a birth after the interview beyond a thousand without naming them", async () => {
    const n = 3000;
    const problems = await describeProblems({
      sex: Array(n).fill("f"),
      weight: Array(n).fill(9),
      height: Array(n).fill(75),
      "interview date": Array(n).fill("2026-01-20"),
      "birth date": Array(n).fill("2026-01-21"),
    });
    expect(problems).toHaveLength(1000);
    expect(problems.reduce((sum, problem) => sum + (problem.count ?? 1), 0)).toBe(n);
    expect(new Set(kinds(problems))).toEqual(new Set(["birth-after-interview"]));
  });

  it("takes a stated missing date as missing", async () => {
    const settings =
      "data: data.csv\ncolumns:\n  sex: sex\n  weight: weight\n  interview-date: interview date\n  birth-date: { column: birth date, missing: [9999-99-99] }\n";
    const survey = await surveyOf(withBirths(["9999-99-99", ...births.slice(1)]), settings);
    expect(survey.birthDay?.[0]).toBeNaN();
    expect(survey.settings.notes).toContainEqual({
      id: "input.note.missing-code",
      values: { role: "birth-date", value: "9999-99-99", count: 1 },
    });
  });
});
