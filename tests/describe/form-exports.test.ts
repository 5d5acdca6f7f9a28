import { describe, expect, it } from "vitest";
import { timeOfDay } from "../../src/columns/dates.js";
import { describe as describeTable } from "../../src/describe/describe.js";
import { draft } from "../../src/describe/draft.js";
import { guessRoles } from "../../src/describe/guess.js";
import { loadWords } from "../../src/render/words.js";
import { parseSurveyFile } from "../../src/settings/survey-file.js";
import {
  type Columns,
  children,
  day,
  describeProblems,
  kinds,
  mustHaveWords,
  surveyOf,
  tableOf,
} from "../columns/make-table.js";

const words = loadWords("en");
const draftOf = async (columns: Columns) => draft(await tableOf(columns), (message) => words.text(message)).text;
const without = (...names: string[]): Columns =>
  Object.fromEntries(Object.entries(children).filter(([name]) => !names.includes(name)));

describe("a question with several answers", () => {
  const codes = ["card", "calendar", "", "card calendar", "calendar", "dont_know"];
  const card = [1, 0, "", 1, 0, 0];
  const calendar = [0, 1, "", 1, 1, 0];

  it("is read from its one column: a document settles the age, a blank stays missing", async () => {
    const survey = await surveyOf({ ...children, "age known how": codes });
    expect([...(survey.ageKnownHow?.codes ?? [])]).toEqual([0, 1, -1, 0, 1, -1]);
  });

  it("is read from the 0/1 columns of its answers where there is no other, a blank staying missing", async () => {
    const columns = { ...children, "age known how/card": card, "age known how/calendar": calendar };
    const survey = await surveyOf(columns);
    expect([...(survey.ageKnownHow?.codes ?? [])]).toEqual([0, 1, -1, 0, 1, -1]);
    const drafted = parseSurveyFile(await draftOf(columns), "survey.yaml");
    expect(drafted.values.columns?.["age-known-how"]).toEqual({
      options: { documented: ["age known how/card"], recalled: ["age known how/calendar"] },
    });
    const table = await tableOf(columns);
    expect(describeTable(table, drafted).ageKnownHow?.codes).toEqual(survey.ageKnownHow?.codes);
  });

  it("is never read twice where both are there", async () => {
    const columns = {
      ...children,
      "age known how": codes,
      "age known how/card": calendar,
      "age known how/calendar": card,
    };
    const { guesses, optionColumns } = guessRoles(await tableOf(columns));
    expect(guesses.get("age-known-how")).toMatchObject({ column: "age known how" });
    expect(optionColumns).toEqual(["age known how/card", "age known how/calendar"]);
  });

  it("does not lend its answers' names to the measures", async () => {
    const measured = ["weight height", "weight", "", "weight height", "height", "weight"];
    const columns = {
      ...children,
      measured,
      "measured/weight": [1, 1, "", 1, 0, 1],
      "measured/height": [1, 0, "", 1, 1, 0],
    };
    const survey = await surveyOf(columns);
    expect(survey.settings.columns).toMatchObject({ weight: "weight", height: "height" });
    // A group of the same name is none: its columns hold more than 0 and 1.
    const { weight = [], ...rest } = children;
    const grouped = await surveyOf({ ...rest, child: [1, 2, 1, 2, 1, 2], "child/weight": weight });
    expect(grouped.settings.columns.weight).toBe("child/weight");
  });

  it("in the settings names columns that have to be there, once each", async () => {
    const settings = (options: string) =>
      `data: data.csv\ncolumns:\n  sex: sex\n  weight: weight\n  height: height\n  age-known-how: { options: ${options} }\n`;
    const columns = { ...children, "known/card": card };
    expect(
      kinds(await describeProblems(columns, settings("{ documented: known/card, recalled: known/calender }"))),
    ).toEqual(["column-not-found"]);
    expect(kinds(await describeProblems(columns, settings("{ documented: known/card, recalled: sex }")))).toEqual([
      "settings-column-twice",
    ]);
    const odd = { ...children, "known/card": [1, 0, 2, 1, 0, 0] };
    expect(kinds(await describeProblems(odd, settings("{ documented: known/card }")))).toEqual(["unknown-code"]);
  });
});

describe("labels", () => {
  it.each<[string, readonly string[]]>([
    ["with a number before them", ["1 - Male", "2 - Female", "1. Male", "2) Female", "1=Male", "2: Female"]],
    ["in two languages", ["Masculin / Male", "Féminin / Female", "ذكر / Boy", "أنثى / Girl", "Niño/Boy", "Niña/Girl"]],
    ["in Portuguese and Arabic", ["Masculino", "Feminino", "ذكر", "أنثى", "menino", "menina"]],
  ])("%s are understood", async (_, sex) => {
    expect([...(await surveyOf({ ...children, sex })).sex]).toEqual([1, 2, 1, 2, 1, 2]);
  });

  it("that say two things are not", async () => {
    const problems = await describeProblems({
      ...children,
      sex: ["boy", "girl", "boy", "girl", "boy girl", "boy/girl"],
    });
    expect(kinds(problems)).toEqual(["unknown-code", "unknown-code"]);
  });

  it("for 'not known' are missing, and a document is one in any of five languages", async () => {
    const known = [
      "carnet de vaccination",
      "calendrier des événements",
      "tarjeta de salud",
      "certidão de nascimento",
      "بطاقة التطعيم",
      "ne sait pas",
    ];
    const survey = await surveyOf({
      ...children,
      "age source": known,
      oedema: ["no", "no", "no sabe", "unknown", "لا", "não sabe"],
    });
    expect([...(survey.ageKnownHow?.codes ?? [])]).toEqual([0, 1, 0, 0, 0, -1]);
    expect([...(survey.oedema ?? [])]).toEqual([0, 0, 2, 2, 0, 2]);
  });
});

describe("columns that a form writes by itself", () => {
  const start = (days: readonly string[]) =>
    days.map((text, i) => `${text}T${String(i + 6).padStart(2, "0")}:30:00.000+03:00`);
  const days = ["2026-01-20", "2026-01-20", "2026-01-21", "2026-01-21", "2026-01-22", "2026-01-22"];

  it("give the time of entry: opened before closed before sent", async () => {
    const opened = { start: start(days), end: start(days), _submission_time: start(days) };
    const survey = await surveyOf({ ...children, ...opened });
    expect(survey.settings.columns["entry-time"]).toBe("start");
    expect(survey.entryTime?.[1]).toBeCloseTo(day("2026-01-20") + 7.5 / 24, 9);
    const sent = await surveyOf({ ...children, "meta/SubmissionDate": start(days) });
    expect(sent.settings.columns["entry-time"]).toBe("meta/SubmissionDate");
  });

  it("stand for the day of the interview where no column gives it, and say so", async () => {
    const rest = without("interview date");
    const opened = await surveyOf({ ...rest, start: start(days) });
    expect(opened.interviewDay).toEqual((await surveyOf(children)).interviewDay);
    expect(opened.settings.notes).toContainEqual({
      id: "input.note.interview-day-from-entry",
      values: { column: "start" },
    });
    const sent = await surveyOf({ ...rest, SubmissionDate: start(days) });
    expect(sent.settings.notes.map(({ id }) => id)).toContain("input.note.interview-day-from-sending");
    const better = await surveyOf({ ...children, start: start(days.map(() => "2026-01-25")) });
    expect(better.interviewDay).toEqual((await surveyOf(children)).interviewDay);
  });

  it("with a wrong clock stop nothing where the day of the interview is known", async () => {
    const late: Columns = { ...children, start: start(days.map(() => "2031-01-25")) };
    const today = { today: day("2026-02-01") };
    expect((await surveyOf(late, null, today)).rowCount).toBe(6);
    const { "interview date": _, ...rest } = late;
    expect(kinds(await describeProblems(rest, null, today))).toContain("future-date");
  });

  it("are left out where they cannot be read, and never shown where they name people", async () => {
    const broken = await surveyOf({ ...children, start: [...start(days).slice(0, 5), "soon"] });
    expect(broken.entryTime).toBeNull();
    expect(broken.settings.notes).toContainEqual({
      id: "input.note.role-left-out",
      values: { role: "entry-time", candidates: 1 },
    });
    const text = await draftOf({
      ...children,
      start: start(days),
      SubmitterName: Array(6).fill("Amaku Tesh"),
      deviceid: Array(6).fill("device-7731"),
      household: ["Tesh A", "Tesh B", "Oru", "Oru", "Bel", "Bel"],
      team: ["Amaku", "Amaku", "T2", "T2", "T2", "T2"],
    });
    expect(text).not.toMatch(/Amaku|Tesh|Oru|7731/);
    expect(text).toContain("T2");
    expect(text).toMatch(/^ {2}entry-time: start$/m);
  });

  it.each([
    ["2026-01-20T08:30:00.000+03:00", 8.5],
    ["2026-01-20 08:30", 8.5],
    ["20/01/2026 8:30 PM", 20.5],
    ["1/20/26 12:15 am", 0.25],
    ["46042.75", 18],
    ["٢٠٢٦-٠١-٢٠ ٠٨:٣٠", 8.5],
  ])("tell the time of day as it is written: %s", (text, hours) => {
    expect(timeOfDay(text)).toBeCloseTo(hours / 24, 9);
  });

  it("without a time of day give none", () => {
    expect(timeOfDay("2026-01-20")).toBeNaN();
    expect(timeOfDay("46042")).toBeNaN();
    expect(timeOfDay("2026-01-20T25:00")).toBeNaN();
  });
});

describe("an age in days", () => {
  const rest = without("birth date", "interview date");
  const days = [617, 1057, 111, 1278, 1483, 505];
  const many = (columns: Columns, times: number): Columns =>
    Object.fromEntries(Object.entries(columns).map(([name, cells]) => [name, Array(times).fill(cells).flat()]));

  it("is known by its values, whatever the name, and is exact", async () => {
    for (const name of ["age", "age in days", "âge (jours)", "edad en días"]) {
      const survey = await surveyOf(many({ ...rest, [name]: days }, 3));
      expect(survey.ageMonths?.[0]).toBeCloseTo(617 / 30.4375, 12);
      expect(survey.settings.notes).toContainEqual({
        id: "input.note.unit-found",
        values: { role: "age-months", unit: "days" },
      });
    }
    const drafted = parseSurveyFile(await draftOf(many({ ...rest, "age days": days }, 3)), "survey.yaml");
    expect(drafted.values.columns?.["age-months"]).toEqual({ column: "age days", unit: "days" });
  });

  it("that the name contradicts is asked for", async () => {
    const months = await describeProblems(many({ ...rest, "age months": days }, 3));
    expect(months).toMatchObject([{ kind: "unit-unclear", column: "age months" }]);
    const short = await describeProblems(many({ ...rest, "age days": [20, 34, 3, 42, 48, 16] }, 3));
    expect(kinds(short)).toEqual(["unit-unclear"]);
  });

  it("gives way to an age in months", async () => {
    const both = await surveyOf(many({ ...rest, "age days": days, "age months": [20, 34, 3, 42, 48, 16] }, 3));
    expect(both.settings.columns["age-months"]).toBe("age months");
  });

  it("of a newborn is no completed month", async () => {
    const survey = await surveyOf(many({ ...rest, "age days": [0, ...days.slice(1)] }, 3));
    expect(survey.ageMonths?.[0]).toBeLessThan(1e-6);
    expect(Number.isInteger(survey.ageMonths?.[0])).toBe(false);
    survey.settings.notes.forEach(mustHaveWords);
  });
});
