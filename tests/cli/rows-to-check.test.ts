import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { parse } from "csv-parse/sync";
import { describe, expect, it } from "vitest";
import { loadWords } from "../../src/render/words.js";
import { anyMessage as message } from "../results/any-message.js";
import { call, emptyFolder, filesIn } from "./run-here.js";

/** A file of the sample; of the settings only what concerns the data file itself. */
const sample = (name: string): string =>
  readFileSync(join(import.meta.dirname, "../../sample-input", name), "utf8").replace(
    /^(?:clusters|planned):\n(?:[ ].*\n)+/gm,
    "",
  );
const header = sample("quillmar-clean.csv").split("\n", 1)[0]?.split(",") ?? [];
const at = (name: string): number => header.indexOf(name);

type Change = (cells: string[]) => void;

/** The clean sample with some of its rows changed, by their number in a spreadsheet. */
function slipped(changes: Readonly<Record<number, Change>>): string {
  const lines = sample("quillmar-clean.csv").trimEnd().split("\n");
  const changed = lines.map((line, i) => {
    const cells = line.split(",");
    changes[i + 1]?.(cells);
    return cells.join(",");
  });
  return `${changed.join("\n")}\n`;
}

const set =
  (values: Readonly<Record<string, string>>): Change =>
  (cells) => {
    for (const [name, value] of Object.entries(values)) cells[at(name)] = value;
  };

async function report(csv: string, yaml: string, ...options: readonly string[]) {
  const folder = emptyFolder();
  writeFileSync(join(folder, "quillmar-clean.csv"), csv);
  writeFileSync(join(folder, "s.yaml"), yaml);
  const out = join(folder, "out");
  const called = await call(["report", join(folder, "s.yaml"), "--out", out, "--no-pdf", ...options]);
  expect(called.code, called.err).toBe(0);
  const written = join(out, "quillmar-clean");
  return { written, files: filesIn(written) };
}

const words = loadWords("en");
const title = (name: string): string => words.text(message(`rows-to-check.column.${name}`));

function rowsIn(folder: string): Record<string, string>[] {
  return parse(readFileSync(join(folder, "rows-to-check.csv"), "utf8"), { bom: true, columns: true }) as never;
}

const column = (row: Record<string, string> | undefined, name: string): string | undefined => row?.[title(name)];
/** The words of a suggestion up to its first value. */
const start = (id: string): string =>
  words.text(message(id, { was: "|", now: "|", column: "|", first: "|", second: "|", date: "|" })).split("|")[0] ?? "";

describe("rows-to-check.csv of a survey with slips of the pen", () => {
  // In the sample, row 2 is a girl of 14.1 kg, row 3 a boy of 862 days, row 4 a girl of 79.8 cm with an arm of 150 mm,
  // row 6 a boy of 67.9 cm, which is 26.7 inches.
  const csv = slipped({
    2: set({ "child/weight_kg": "1.41" }),
    4: set({ "child/height_cm": "150", "child/arm_mm": "79.8" }),
    6: set({ "child/height_cm": "26.7" }),
    3: set({ "child/birth_date": "", "child/age_months": "862" }),
  });

  it("gives the file's row, place, original columns and texts, and what to look for", async () => {
    const yaml = sample("quillmar-clean.yaml").replace("  household:", "  child: child/line_no\n  household:");
    const { written } = await report(csv, yaml);
    const rows = rowsIn(written);
    expect(rows.every((row) => column(row, "internal") === words.text(message("rows-to-check.internal")))).toBe(true);
    const of = (row: number) => rows.find((one) => column(one, "row") === String(row));
    const weight = of(2);
    expect(["cluster", "household", "child"].map((name) => column(weight, name))).toEqual(["101", "4", "1"]);
    expect(column(weight, "column")).toBe("child/weight_kg | child/height_cm | child/birth_date | visit/today");
    expect(column(weight, "value")).toBe("1.41 | 99.1 | 2020-10-27 | 2024-10-07");
    expect(column(weight, "suggestion")).toContain(start("suggestion.decimal"));
    expect(column(weight, "suggestion")).toContain("14.1 kg");
    expect(column(of(4), "suggestion")).toContain(start("suggestion.swapped"));
    expect(column(of(6), "suggestion")).toContain(start("suggestion.inches"));
  });

  it("an age in days, which took the child out of the survey or is no child's, is listed with its text", async () => {
    // Row 3 as above, and the first child of 100 to 200 days.
    const lines = csv
      .trimEnd()
      .split("\n")
      .map((line) => line.split(","));
    const age = (cells: readonly string[] = []): number =>
      (Date.parse(cells[at("visit/today")] ?? "") - Date.parse(cells[at("child/birth_date")] ?? "")) / 86_400_000;
    const young = lines.findIndex((cells) => age(cells) > 100 && age(cells) < 200);
    const days = String(age(lines[young]));
    set({ "child/birth_date": "", "child/age_months": days })(lines[young] as string[]);
    const both = `${lines.map((cells) => cells.join(",")).join("\n")}\n`;
    const rows = rowsIn((await report(both, sample("quillmar-clean.yaml"))).written);
    for (const [sheetRow, text, why] of [
      ["3", "862", "set-aside"],
      [String(young + 1), days, "left-out"],
    ] as const) {
      const row = rows.find((one) => column(one, "row") === sheetRow);
      expect(column(row, "value")).toContain(text);
      expect(column(row, "suggestion")).toBe(start("suggestion.age-days"));
      expect(column(row, "check")).toBe(words.text(message(`rows-to-check.${why}.title`)));
    }
  });

  it("household and child only where the settings file names them", async () => {
    const yaml = sample("quillmar-clean.yaml").replace("  household: place/house_no\n", "");
    const rows = rowsIn((await report(csv, yaml)).written);
    expect(rows.length).toBeGreaterThan(2);
    expect(Object.keys(rows[0] ?? {})).toContain(title("cluster"));
    expect(Object.keys(rows[0] ?? {})).not.toContain(title("household"));
    expect(Object.keys(rows[0] ?? {})).not.toContain(title("child"));
  });

  it("--no-rows leaves it out, and nothing else is different", async () => {
    const yaml = sample("quillmar-clean.yaml");
    const [without, with_] = [await report(csv, yaml, "--no-rows"), await report(csv, yaml)];
    expect(with_.files.filter((name) => !without.files.includes(name))).toEqual(["rows-to-check.csv"]);
    for (const name of without.files) {
      expect(readFileSync(join(without.written, name)).equals(readFileSync(join(with_.written, name))), name).toBe(
        true,
      );
    }
  });
});
