import { stringify } from "yaml";
import { generateSurvey } from "../../src/example/survey.js";
import { type ExampleRow, toRows } from "../example/to-rows.js";
import { inCodePage } from "../read/write-code-page.js";
import { type ParquetColumn, parquetOf } from "../read/write-parquet.js";
import { type Cell, serialOf, xlsxOf } from "../read/write-xlsx.js";
import { zipOf } from "../read/write-zip.js";
import { type Column, columns, frenchValues } from "./five-ways-columns.js";

/** A file of sample-input/same-survey-five-ways. */
export interface FiveWaysFile {
  readonly name: string;
  readonly content: string | Buffer;
}

/** The five ways, by the name of their settings file. */
export const ways = ["comma", "semicolon", "workbook", "form", "merged"] as const;

const seed = 20260506;

/** The rows of the survey; an age that nobody knows is left empty, so that no code for it differs between languages. */
function surveyRows(): ExampleRow[] {
  const rows = toRows(generateSurvey({ seed, size: 180, clusters: 12 }));
  return rows.map((row) => ({
    ...row,
    "child/age_known_by": (row["child/age_known_by"] ?? "").replace("not known", ""),
  }));
}

const cell = (row: ExampleRow, column: Column): string => row[column.form] ?? "";

/** Names by which a file calls the columns, and texts by which it says what it found. */
interface Spelling {
  readonly data: unknown;
  readonly name: (column: Column) => string;
  readonly value: (text: string) => string;
  readonly dateOrder: string;
  readonly remark: string;
}

function settingsText({ data, name, value, dateOrder, remark }: Spelling): string {
  const columnOf = (role: string): string => {
    const column = columns.find((one) => one.role === role);
    if (column === undefined) throw new Error(`No column is '${role}'.`);
    return name(column);
  };
  const plain = (...roles: string[]) => Object.fromEntries(roles.map((role) => [role, columnOf(role)]));
  const known = {
    documented: [value("health card"), value("birth certificate")],
    recalled: value("calendar of events"),
  };
  const settings = {
    title: "A small survey in Quillmar (invented data)",
    name: "five-ways",
    population: "Children under five in the invented province of Quillmar",
    language: "en",
    invented: true,
    data,
    columns: {
      ...plain("cluster", "stratum", "sampling-weight", "household", "team"),
      "interview-date": { column: columnOf("interview-date"), "date-order": dateOrder },
      sex: { column: columnOf("sex"), codes: { male: value("boy"), female: value("girl") } },
      "birth-date": { column: columnOf("birth-date"), "date-order": dateOrder },
      ...plain("age-months"),
      "age-known-how": { column: columnOf("age-known-how"), codes: known },
      weight: { column: columnOf("weight"), unit: "kg" },
      height: { column: columnOf("height"), unit: "cm" },
      position: { column: columnOf("position"), codes: { lying: value("lying"), standing: value("standing") } },
      "arm-circumference": { column: columnOf("arm-circumference"), unit: "mm" },
      oedema: { column: columnOf("oedema"), codes: { present: value("yes"), absent: value("no") } },
    },
    "age-in-months": "completed",
    "position-rule": "age",
    expectations: { "boys-per-girl": 1.04, "under-five-mortality": 70, "growth-of-births": 0.025 },
    seed: 1,
  };
  return `# Invented data: no child, team or place in them is real. ${remark}\n${stringify(settings, { lineWidth: 120, version: "1.1" })}`;
}

const asItIs = (text: string): string => text;
const english = { value: asItIs, dateOrder: "year-month-day" };

function comma(rows: readonly ExampleRow[]): FiveWaysFile[] {
  const lines = [
    columns.map((column) => column.form),
    ...rows.map((row) => columns.map((column) => cell(row, column))),
  ];
  const remark = "UTF-8, commas, the form's own column names.";
  return [
    { name: "comma.csv", content: `${lines.map((line) => line.join(",")).join("\n")}\n` },
    { name: "comma.yaml", content: settingsText({ ...english, data: "comma.csv", name: (c) => c.form, remark }) },
  ];
}

function semicolon(rows: readonly ExampleRow[]): FiveWaysFile[] {
  const french = (text: string): string => frenchValues[text] ?? text;
  const written = (column: Column, text: string): string => {
    if (column.type === "date") return text.split("-").reverse().join("/");
    return column.type === "double" ? text.replace(".", ",") : french(text);
  };
  const lines = rows.map((row) => columns.map((column) => written(column, cell(row, column))).join(";"));
  const header = columns.map((column) => column.french).join(";");
  const data = { file: "semicolon.csv", encoding: "windows-1252" };
  const spelling = { data, name: (c: Column) => c.french, value: french, dateOrder: "day-month-year" };
  const remark = "Windows-1252, semicolons, decimal commas, French names and values.";
  return [
    { name: "semicolon.csv", content: inCodePage("windows-1252", `${[header, ...lines].join("\r\n")}\r\n`) },
    { name: "semicolon.yaml", content: settingsText({ ...spelling, remark }) },
  ];
}

function workbook(rows: readonly ExampleRow[]): FiveWaysFile[] {
  const typed = (column: Column, text: string): Cell => {
    if (text === "") return null;
    if (column.type === "date") return { serial: serialOf(text) };
    return column.type === "text" ? text : Number(text);
  };
  const above: Cell[][] = [["A small survey in Quillmar (invented data)"], []];
  const table = [
    columns.map((column) => column.heading),
    ...rows.map((row) => columns.map((c) => typed(c, cell(row, c)))),
  ];
  const content = xlsxOf([
    { name: "About", rows: [["Invented data, made by a program."], ["Dates are day numbers with a date format."]] },
    { name: "Children", rows: [...above, ...table], merged: ["A1:F1"] },
    {
      name: "Codes",
      rows: [
        ["Sex", "Meaning"],
        ["boy", "male"],
        ["girl", "female"],
      ],
    },
  ]);
  const data = { file: "workbook.xlsx", sheet: "Children" };
  const remark = "A workbook with a title, day numbers for dates, and three sheets.";
  return [
    { name: "workbook.xlsx", content },
    { name: "workbook.yaml", content: settingsText({ ...english, data, name: (c) => c.heading, remark }) },
  ];
}

function form(rows: readonly ExampleRow[]): FiveWaysFile[] {
  const dashed = (column: Column): string => column.form.replaceAll("/", "-");
  const ofHouse = columns.filter((column) => column.of === "house");
  const ofChild = columns.filter((column) => column.of === "child");
  // A form is filled in once a visit; the key is the form's, not the house's number.
  const visits = new Map<string, { readonly key: string; readonly house: readonly string[] }>();
  const children = rows.map((row, i) => {
    const house = ofHouse.map((column) => cell(row, column));
    const visit = visits.get(house.join()) ?? { key: `uuid:visit-${visits.size + 1}`, house };
    visits.set(house.join(), visit);
    return [...ofChild.map((column) => cell(row, column)), visit.key, `${visit.key}/child-${i + 1}`];
  });
  const csv = (lines: readonly (readonly string[])[]): string => `${lines.map((line) => line.join(",")).join("\n")}\n`;
  // Last first, so that nothing hangs on the order of the households.
  const households = [...visits.values()].reverse().map(({ house, key }) => [...house, key]);
  const content = zipOf([
    { name: "survey.csv", content: csv([[...ofHouse.map(dashed), "KEY"], ...households]) },
    { name: "survey-children.csv", content: csv([[...ofChild.map(dashed), "PARENT_KEY", "KEY"], ...children]) },
  ]);
  const remark = "The form's tables, households and children, joined on the parent's key.";
  return [
    { name: "form.zip", content },
    { name: "form.yaml", content: settingsText({ ...english, data: "form.zip", name: dashed, remark }) },
  ];
}

function merged(rows: readonly ExampleRow[]): FiveWaysFile[] {
  const snake = (column: Column): string => column.form.slice(column.form.indexOf("/") + 1);
  const content = parquetOf(
    columns.map((column): ParquetColumn => {
      const texts = rows.map((row) => cell(row, column));
      const name = snake(column);
      if (column.type === "text")
        return { name, type: "text", values: texts.map((text) => (text === "" ? null : text)) };
      const number = (text: string): number =>
        column.type === "date" ? serialOf(text) - serialOf("1970-01-01") : Number(text);
      return { name, type: column.type, values: texts.map((text) => (text === "" ? null : number(text))) };
    }),
    100,
  );
  const remark = "Parquet, typed columns.";
  return [
    { name: "merged.parquet", content },
    { name: "merged.yaml", content: settingsText({ ...english, data: "merged.parquet", name: snake, remark }) },
  ];
}

/** One invented survey in five files, each with its settings. */
export function fiveWaysFiles(): FiveWaysFile[] {
  const rows = surveyRows();
  return [...comma(rows), ...semicolon(rows), ...workbook(rows), ...form(rows), ...merged(rows)];
}
