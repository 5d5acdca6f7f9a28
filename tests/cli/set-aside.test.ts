import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { parse } from "csv-parse/sync";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { loadWords } from "../../src/render/words.js";
import type { Results } from "../../src/results/schema.js";
import { anyMessage as message } from "../results/any-message.js";
import { call, emptyFolder } from "./run-here.js";

const words = loadWords("en");
const folderOfSample = join(import.meta.dirname, "../../sample-input");
const lines = readFileSync(join(folderOfSample, "quillmar-clean.csv"), "utf8").trimEnd().split("\n");
const header = lines[0]?.split(",") ?? [];
const at = (name: string): number => header.indexOf(name);
const yaml = readFileSync(join(folderOfSample, "quillmar-clean.yaml"), "utf8").replace(
  /^(?:clusters|planned):\n(?:[ ].*\n)+/gm,
  "",
);

type Cells = Readonly<Record<string, string>>;
const [weight, height, arm, birth, age, today] = [
  "child/weight_kg",
  "child/height_cm",
  "child/arm_mm",
  "child/birth_date",
  "child/age_months",
  "visit/today",
] as const;

/** The text of a cell of the sample, by its row in a spreadsheet. */
const cell = (row: number, name: string): string => (lines[row - 1] as string).split(",")[at(name)] as string;

function withCells(changes: ReadonlyMap<number, Cells>): string {
  const changed = lines.map((line, i) => {
    const own = changes.get(i + 1);
    if (own === undefined) return line;
    const cells = line.split(",");
    for (const [name, value] of Object.entries(own)) cells[at(name)] = value;
    return cells.join(",");
  });
  return `${changed.join("\n")}\n`;
}

const folders: string[] = [];
afterAll(() => {
  for (const folder of folders) rmSync(folder, { recursive: true, force: true });
});

async function report(csv: string) {
  const folder = mkdtempSync(join(tmpdir(), "tareline-test-"));
  folders.push(folder);
  writeFileSync(join(folder, "quillmar-clean.csv"), csv);
  writeFileSync(join(folder, "s.yaml"), yaml);
  const called = await call(["report", join(folder, "s.yaml"), "--out", join(folder, "out"), "--formats", "html"]);
  expect(called.code, called.err).toBe(0);
  const file = (name: string): string => readFileSync(join(folder, "out", "quillmar-clean", name), "utf8");
  const text = (name: string): string => words.text(message(`rows-to-check.column.${name}`));
  const rows = () =>
    (parse(file("rows-to-check.csv"), { bom: true, columns: true }) as Record<string, string>[])
      .filter((row) => row[text("check")] === words.text(message("rows-to-check.set-aside.title")))
      .map((row) => ({
        row: Number(row[text("row")]),
        column: row[text("column")],
        value: row[text("value")],
        suggestion: row[text("suggestion")] ?? "",
      }));
  return { results: JSON.parse(file("results.json")) as Results, rows, html: file("report.html"), said: called.err };
}

/** Rows of the sample whose child is whole: everything measured, not at the edge of any table. */
const whole = lines.flatMap((line, i) => {
  const cells = line.split(",");
  const kilograms = Number(cells[at(weight)]);
  const days = (Date.parse(cells[at(today)] as string) - Date.parse(cells[at(birth)] as string)) / 86_400_000;
  const isWhole = i > 0 && kilograms > 9 && Number(cells[at(height)]) > 76 && days > 550 && days < 1500;
  return isWhole && cells[at(arm)] !== "" ? [i + 1] : [];
});
const days = (row: number): number => (Date.parse(cell(row, today)) - Date.parse(cell(row, birth))) / 86_400_000;

/** Each kind of slip once: the row, what stands there instead, which cells it makes impossible, how the suggestion begins. */
interface Slip {
  readonly kind: string;
  readonly row: number;
  readonly cells: Cells;
  readonly impossible: readonly string[];
  readonly suggestion: string;
}

function slips(): Slip[] {
  const rows = whole.slice(5);
  const next = (): number => rows.shift() as number;
  const slip = (
    kind: string,
    suggestion: string,
    make: (row: number) => Cells,
    impossible?: readonly string[],
  ): Slip => {
    const row = next();
    const cells = make(row);
    return { kind, row, cells, impossible: impossible ?? Object.keys(cells), suggestion };
  };
  const dayMonth = lines.findIndex((line, i) => {
    if (i === 0 || line.split(",")[at(birth)] === "") return false;
    const [year, month, day] = cell(i + 1, birth).split("-") as [string, string, string];
    const exchanged = Date.parse(`${year}-${day}-${month}`);
    return Number(day) <= 12 && day !== month && exchanged > Date.parse(cell(i + 1, today)) && days(i + 1) > 60;
  });
  const [year, month, day] = cell(dayMonth + 1, birth).split("-") as [string, string, string];
  return [
    slip("swapped", "suggestion.swapped", (row) => ({ [weight]: cell(row, height), [height]: cell(row, weight) })),
    slip("decimal point of the height", "suggestion.decimal", (row) => ({
      [height]: (Number(cell(row, height)) / 10).toFixed(2),
    })),
    slip("grams", "suggestion.other-unit", (row) => ({
      [weight]: String(Math.round(Number(cell(row, weight)) * 1000)),
    })),
    slip("millimetres", "suggestion.decimal", (row) => ({
      [height]: String(Math.round(Number(cell(row, height)) * 10)),
    })),
    slip("metres", "suggestion.other-unit", (row) => ({ [height]: (Number(cell(row, height)) / 100).toFixed(3) })),
    slip("arm in centimetres", "suggestion.decimal", (row) => ({ [arm]: (Number(cell(row, arm)) / 10).toFixed(1) })),
    slip("age in days", "suggestion.age-days", (row) => ({ [birth]: "", [age]: String(days(row)) }), [age]),
    {
      kind: "day and month",
      row: dayMonth + 1,
      cells: { [birth]: `${year}-${day}-${month}` },
      impossible: [birth],
      suggestion: "suggestion.day-month",
    },
  ];
}

/** The words of a suggestion up to its first value. */
const start = (id: string): string =>
  words.text(message(id, { was: "|", now: "|", column: "|", first: "|", second: "|", date: "|" })).split("|")[0] ?? "";

describe("values that cannot be, in a few rows of a good file", () => {
  let planted: readonly Slip[];
  let full: Awaited<ReturnType<typeof report>>;
  let emptied: Awaited<ReturnType<typeof report>>;

  beforeAll(async () => {
    planted = slips();
    full = await report(withCells(new Map(planted.map(({ row, cells }) => [row, cells]))));
    emptied = await report(
      withCells(
        new Map(
          planted.map(({ row, cells, impossible }) => [
            row,
            { ...cells, ...Object.fromEntries(impossible.map((name) => [name, ""])) },
          ]),
        ),
      ),
    );
  });

  it("are listed by their row in a spreadsheet, with what stands there and the right suggestion", () => {
    const rows = full.rows();
    expect(rows.map(({ row }) => row).sort((a, b) => a - b)).toEqual(
      planted.map(({ row }) => row).sort((a, b) => a - b),
    );
    for (const { kind, row, cells, impossible, suggestion } of planted) {
      const listed = rows.find((one) => one.row === row);
      for (const name of impossible) {
        expect(listed?.column, kind).toContain(name);
        expect(listed?.value, kind).toContain(cells[name]);
      }
      expect(listed?.suggestion, kind).toContain(start(suggestion));
      if (suggestion !== "suggestion.day-month") continue;
      expect(listed?.suggestion).toContain(cell(row, birth));
    }
  });

  it("count as not measured: every estimate and scenario is that of the file with these cells empty", () => {
    expect(full.results.estimates).toEqual(emptied.results.estimates);
    expect(full.results.consequence?.scenarios).toEqual(emptied.results.consequence?.scenarios);
    expect(full.results.children.total).toBe(emptied.results.children.total);
  });

  it("are counted under their own reason, which the report prints", () => {
    const reasons = (results: Results, index: string) =>
      Object.fromEntries(
        results.children.scores.find((one) => one.index === index)?.missing.map((one) => [one.reason, one.count]) ?? [],
      );
    const of = (...kinds: string[]) => planted.filter(({ kind }) => kinds.includes(kind)).length;
    const heights = of("swapped", "decimal point of the height", "millimetres", "metres");
    const ages = of("age in days", "day and month");
    expect(reasons(full.results, "weight-for-height").impossible).toBe(heights + of("grams"));
    expect(reasons(full.results, "height-for-age").impossible).toBe(heights + ages);
    expect(reasons(full.results, "arm-for-age").impossible).toBe(of("arm in centimetres") + ages);
    expect(reasons(emptied.results, "weight-for-height").impossible).toBeUndefined();
    const sum = (results: Results) =>
      results.children.scores.map((one) => one.missing.reduce((total, { count }) => total + count, 0));
    expect(sum(full.results)).toEqual(sum(emptied.results));
    expect(full.html).toContain(words.text(message("no-score.impossible")));
  });

  it("stand in the check of completeness, column by column", () => {
    const table = (results: Results) =>
      results.checks.find(({ id }) => id === "missing-values")?.tables.find(({ id }) => id === "missing-values");
    const place = table(full.results)?.columns.findIndex(({ id }) => id === "set-aside") ?? -1;
    const counts = Object.fromEntries(
      table(full.results)?.rows.map((row) => [(row[0] as { id: string }).id.split(".").at(-1), row[place]]) ?? [],
    );
    expect(counts).toMatchObject({ weight: 2, height: 4, arm: 1, age: 2, sex: 0 });
    expect(full.html).toContain(words.text(message("checks.missing-values.column.set-aside")));
    expect(table(emptied.results)?.columns.some(({ id }) => id === "set-aside")).toBe(false);
    expect(full.results.notes.filter(({ id }) => id === "input.note.set-aside").map(({ values }) => values)).toEqual([
      { role: "birth-date", count: 1 },
      { role: "age-months", count: 1 },
      { role: "weight", count: 2 },
      { role: "height", count: 4 },
      { role: "arm-circumference", count: 1 },
    ]);
  });
});

describe("values that cannot be, in more than two of a hundred rows", () => {
  it.each([
    ["weights in grams", weight, (row: number) => String(Math.round(Number(cell(row, weight)) * 1000)), "looks like g"],
    ["dates of birth after the interview", birth, () => "2025-01-02", "2025-01-02"],
  ])("%s: the file is refused as ever", async (_, name, make, said) => {
    const count = Math.floor((lines.length - 1) * 0.02) + 1;
    const folder = emptyFolder();
    const many = new Map(whole.slice(0, count).map((row) => [row, { [name]: make(row) }] as const));
    expect(many.size).toBe(count);
    writeFileSync(join(folder, "quillmar-clean.csv"), withCells(many));
    writeFileSync(join(folder, "s.yaml"), yaml);
    const called = await call(["report", join(folder, "s.yaml"), "--out", join(folder, "out"), "--no-pdf"]);
    expect(called.code).toBe(2);
    expect(called.err).toContain(said);
  });

  it("dates that do not exist and texts in a number stay refused, be it one", async () => {
    for (const change of [{ [birth]: "2024-02-31" }, { [weight]: "12 kilos" }]) {
      const folder = emptyFolder();
      writeFileSync(join(folder, "quillmar-clean.csv"), withCells(new Map([[whole[0] as number, change]])));
      writeFileSync(join(folder, "s.yaml"), yaml);
      const called = await call(["report", join(folder, "s.yaml"), "--out", join(folder, "out"), "--no-pdf"]);
      expect(called.code).toBe(2);
      expect(called.err).toContain(Object.values(change)[0]);
    }
  });
});
