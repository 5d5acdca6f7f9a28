import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { call, emptyFolder } from "../cli/run-here.js";
import type { Row } from "../cli/small-survey.js";
import { type Cell, serialOf, xlsxOf } from "../read/write-xlsx.js";
import { districtRows, type Reported, report } from "./silent-columns.js";

const rows: Row[] = districtRows().map((row, i) => ({ ...row, cluster: String(101 + (i % 36)) }));
const changed = (name: string, of: (text: string, row: number) => string, all = rows): Row[] =>
  all.map((row, i) => ({ ...row, [name]: of(row[name] ?? "", i) }));
const every = (share: number, code: string) => (text: string, row: number) =>
  row % Math.round(1 / share) === 3 ? code : text;

const words = ({ said }: Reported): string => said.join("\n");
/** Refused, with a sentence that names what is wrong. */
async function refused(all: readonly Row[], sentence: RegExp): Promise<void> {
  const reported = await report(all);
  expect(reported.code, words(reported)).toBe(2);
  expect(words(reported)).toMatch(sentence);
}

describe("a survey as it is", () => {
  it("is read without a word about its values", async () => {
    const reported = await report(rows);
    expect(reported.code, words(reported)).toBe(0);
    for (const id of ["set-aside", "repeats-like-code", "rows-empty"]) expect(reported.notes.has(id)).toBe(false);
  });
});

describe("codes among the measurements", () => {
  it("seven weights of 999 are set aside, at the terminal and in the report", async () => {
    const reported = await report(changed("weight", (text, row) => (row < 7 ? "999" : text)));
    expect(reported.code).toBe(0);
    expect(reported.notes.get("set-aside")).toEqual({ role: "weight", count: 7 });
    expect(words(reported)).toContain("7 values lie outside what is possible");
  });

  it("a height of a million is set aside and moves nothing", async () => {
    const reported = await report(changed("height", (text, row) => (row === 5 ? "1000000" : text)));
    expect(reported.notes.get("set-aside")).toEqual({ role: "height", count: 1 });
    const stunting = reported.results.estimates.find(({ id }) => id === "stunting")?.overall?.value;
    expect(stunting).toBeGreaterThan(0.01);
  });

  it.each([
    ["height", "99.9"],
    ["weight", "9.9"],
    ["weight", "8.8"],
  ])("%s %s in 5 %% of the rows is told of at the terminal and in the report", async (name, code) => {
    const reported = await report(changed(name, every(0.05, code)));
    expect(reported.code).toBe(0);
    expect(reported.notes.get("repeats-like-code")).toMatchObject({ role: name, value: code });
    expect(words(reported)).toContain(`the value ${code} stands in`);
  });

  it.each(["inf", "-inf", "Infinity", "1e400"])("%s is no number", (text) =>
    refused(changed("weight", every(0.05, text)), /cells are not a number/),
  );

  it("1,234 beside 950 may be thousands or decimals: asked", () =>
    refused(
      changed("weight", (text, row) =>
        row === 3 ? "950" : Math.round(Math.min(9.99, Math.max(1, Number(text))) * 1000).toLocaleString("en-US"),
      ),
      /beside 950: the sign may part thousands or decimals/,
    ));
});

describe("dates half converted by a spreadsheet", () => {
  const [isoForm, padded, bare] = ["iso", "padded", "bare"] as const;
  const halved = (form: "iso" | "padded", left: "bare" | "padded") =>
    changed("birth_date", (text) => {
      const [year, month, day] = text.split("-").map(Number) as [number, number, number];
      const two = (part: number): string => String(part).padStart(2, "0");
      if (day > 12) return left === bare ? `${day}/${month}/${year}` : `${two(day)}/${two(month)}/${year}`;
      return form === isoForm ? `${year}-${two(day)}-${two(month)}` : `${two(month)}/${two(day)}/${year}`;
    });

  it.each([
    ["of the cells' own dates beside texts", isoForm, padded],
    ["of the cells' own dates beside texts without noughts", isoForm, bare],
    ["of dates with noughts beside texts without", padded, bare],
  ] as const)("are refused by the days of either form: %s", (_, form, left) =>
    refused(halved(form, left), /exchanged day and month where it could/),
  );

  it("are not seen where both forms hold days of all kinds", async () => {
    const mixed = changed("birth_date", (text, row) => {
      const [year, month, day] = text.split("-").map(Number);
      return row % 2 === 0 ? text : `${day}/${month}/${year}`;
    });
    const reported = await report(mixed);
    expect(reported.code, words(reported)).toBe(0);
  });
});

describe("a workbook", () => {
  const names = Object.keys(rows[0] ?? {});
  async function reportWorkbook(cellOf: (name: string, text: string) => Cell): Promise<{ code: number; said: string }> {
    const folder = emptyFolder();
    const data = rows.map((row) => names.map((name) => cellOf(name, row[name] ?? "")));
    writeFileSync(join(folder, "survey.xlsx"), xlsxOf([{ name: "Children", rows: [names, ...data] }]));
    const { code, said } = await call(["report", join(folder, "survey.xlsx"), "--json", "-"]);
    return { code, said: said.join("\n") };
  }
  const numeric = (name: string, text: string): Cell => (/^(?:weight|height|muac)$/.test(name) ? Number(text) : text);

  it("is read as the same rows in a text file are", async () => {
    expect((await reportWorkbook(numeric)).code).toBe(0);
  });

  it("with real dates, day and month exchanged, beside texts is refused", async () => {
    const { code, said } = await reportWorkbook((name, text) => {
      const [year, month, day] = text.split("-").map(Number) as [number, number, number];
      if (name !== "birth_date") return numeric(name, text);
      if (day > 12) return `${day}/${month}/${year}`;
      return { serial: serialOf([year, day, month].map((part) => String(part).padStart(2, "0")).join("-")) };
    });
    expect(code).toBe(2);
    expect(said).toMatch(/exchanged day and month where it could/);
  });

  it("with a column of formulas that were never worked out is refused", async () => {
    const { code, said } = await reportWorkbook((name, text) =>
      name === "weight" ? { formula: `${text}+0`, value: "" } : numeric(name, text),
    );
    expect(code).toBe(2);
    expect(said).toMatch(/"weight".*formula|formula.*"weight"/is);
  });
});

describe("columns that are not what they are taken for", () => {
  it("weights in pounds", () =>
    refused(
      changed("weight", (text) => (Number(text) * 2.2046).toFixed(1)),
      /z-scores of .* are impossible.*pounds/s,
    ));
  it("heights in inches", () =>
    refused(
      changed("height", (text) => (Number(text) / 2.54).toFixed(1)),
      /z-scores of .* are impossible.*inches/s,
    ));
  it("oedema the wrong way round", () =>
    refused(
      changed("oedema", (text) => (text === "n" ? "y" : "n")),
      /720 of 720 children have oedema/,
    ));
  it("weights that belong to other children", () =>
    refused(
      changed("weight", (_, row) => rows[(row * 347) % rows.length]?.weight ?? ""),
      /do not go together: among 720 children/,
    ));
});

describe("ages in another unit", () => {
  const months = (row: Row): number =>
    Math.floor((Date.parse(row.interview_date ?? "") - Date.parse(row.birth_date ?? "")) / 86_400_000 / 30.4375);
  const aged = (name: string, of: (age: number) => number): Row[] =>
    rows.map(({ birth_date: _, ...row }, i) => ({ ...row, [name]: String(of(months(rows[i] as Row))) }));

  it("weeks that look like days", () =>
    refused(
      aged("age", (age) => Math.round(age * 4.348)),
      /z-scores of .* are impossible.*ages in weeks/s,
    ));
  it("years, one of them 7", async () => {
    const years = aged("age", (age) => Math.floor(age / 12)).map((row, i) => (i === 4 ? { ...row, age: "7" } : row));
    await refused(years, /these look like years/);
  });
  it("months left over beside a column of years", async () => {
    const left = aged("age_months", (age) => age % 12);
    const both = left.map((row, i) => ({ ...row, age_years: String(Math.floor(months(rows[i] as Row) / 12)) }));
    await refused(both, /z-scores of .* are impossible.*months left over/s);
  });
});

describe("lines of a form that were numbered and not used", () => {
  it("are no children, and that is said", async () => {
    const empty = Object.fromEntries(Object.keys(rows[0] ?? {}).map((name) => [name, ""]));
    const numbered = [...rows, ...Array.from({ length: 54 }, () => empty)].map((row, i) => ({
      line: String(i + 1),
      ...row,
    }));
    const reported = await report(numbered);
    expect(reported.code, words(reported)).toBe(0);
    expect(reported.results.children.total).toBe(rows.length);
    expect(reported.notes.get("rows-empty")).toEqual({ count: 54 });
    expect(words(reported)).toContain("54 rows hold nothing in any column that is read");
  });
});
