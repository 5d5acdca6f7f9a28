import { readFileSync } from "node:fs";
import { HtmlValidate } from "html-validate";
import { beforeAll, describe, expect, it } from "vitest";
import { renderHtml } from "../../src/render/html.js";
import { anchor, cssString } from "../../src/render/markup.js";
import { scoreMethods } from "../../src/render/view/methods.js";
import { settingsTable } from "../../src/render/view/settings.js";
import { shortReference } from "../../src/render/view/sources.js";
import { loadWords } from "../../src/render/words.js";
import { type Results, resultsSchema } from "../../src/results/schema.js";
import { readings, sampleResults, withConsequence } from "./sample-results.js";

const more = JSON.parse(readFileSync("tests/render/sample-words.json", "utf8")) as Record<string, string>;
const words = loadWords("en", more);
let page = "";

/** Pieces of text between tags, without the style sheet. */
const textsOf = (html: string): string[] =>
  html
    .replace(/<style>[\s\S]*?<\/style>/g, "")
    .split(/<[^>]*>/)
    .map((text) => text.trim())
    .filter((text) => text !== "");

beforeAll(async () => {
  page = await renderHtml(withConsequence(sampleResults), words);
});

describe("the page", () => {
  it("is drawn from results that the schema accepts, with every word found", () => {
    expect(resultsSchema.safeParse(withConsequence(sampleResults)).error).toBeUndefined();
    expect([...words.missing]).toEqual([]);
    expect(textsOf(page).filter((text) => /NaN|undefined|\[object|\[\[/.test(text))).toEqual([]);
  });

  it("stands alone: no script, no outside address, a policy that allows neither", () => {
    expect(page).toContain(`content="default-src &#x27;none&#x27;`.replaceAll("&#x27;", "'"));
    expect(page).not.toMatch(/<script|<iframe|<link|<img|<object|<form|@import|javascript:/i);
    expect(page.match(/https?:\/\/|(?:src|href)="(?!#)/g)).toBeNull();
    expect(page.match(/url\((?!data:font\/woff2|#)/g)).toBeNull();
    expect(page).not.toMatch(/ on[a-z]+=/);
  });

  it("has one main heading, no skipped level, unique ids, and links that lead somewhere", () => {
    const levels = [...page.matchAll(/<h([1-6])\b/g)].map((match) => Number(match[1]));
    expect(levels.filter((level) => level === 1)).toHaveLength(1);
    for (const [i, level] of levels.entries()) expect(level).toBeLessThanOrEqual((levels[i - 1] ?? 0) + 1);
    const ids = [...page.matchAll(/ id="([^"]+)"/g)].map((match) => match[1] ?? "");
    expect(new Set(ids).size).toBe(ids.length);
    const targets = [...page.matchAll(/ href="#([^"]+)"/g)].map((match) => match[1] ?? "");
    expect(targets.length).toBeGreaterThan(10);
    expect(targets.filter((target) => !ids.includes(target))).toEqual([]);
  });

  it("is valid HTML", async () => {
    const validator = new HtmlValidate({
      extends: ["html-validate:recommended", "html-validate:a11y"],
    });
    const told = async (html: string): Promise<string[]> => {
      const report = await validator.validateString(html);
      return report.results.flatMap((result) => result.messages.map((each) => `${each.ruleId}: ${each.message}`));
    };
    expect(await told(page)).toEqual([]);
    // A validator that sees nothing would pass as well.
    expect((await told(page.replace('<main id="report">', '<main id="summary"><p><ul></p>'))).join()).toContain(
      "no-dup-id",
    );
  });

  it("puts a sign and its word at every reading, and shows all four", () => {
    for (const reading of readings) expect(page).toContain(words.text({ id: `reading.${reading}`, values: {} }));
    const shown = [...page.matchAll(/<span class="reading">([\s\S]*?)<\/span>/g)].map((match) => match[1] ?? "");
    expect(shown.length).toBeGreaterThan(10);
    for (const each of shown) expect(each).toMatch(/<svg class="sign"[\s\S]*<\/svg>\s*[a-z]/);
  });

  it("every figure has its text alternative, every table its caption and header row", () => {
    const figures = [...page.matchAll(/<figure\b[\s\S]*?<\/figure>/g)].map((match) => match[0]);
    expect(figures.length).toBeGreaterThan(10);
    for (const figure of figures)
      expect(figure).toMatch(/<figcaption id="[^"]+">[^<]+<\/figcaption>[\s\S]*role="img" aria-label="[^"]+"/);
    const tables = [...page.matchAll(/<table\b[\s\S]*?<\/table>/g)].map((match) => match[0]);
    expect(tables.length).toBeGreaterThan(10);
    for (const table of tables) {
      expect(table).toMatch(/<caption id="[^"]+">[^<]+<\/caption>\s*<thead><tr><th scope="col"/);
      expect(table).toMatch(/<th scope="row"/);
    }
  });

  it("shows a withheld or unknown estimate as such, never as a number", () => {
    const row = (label: string): string => page.split("<tr>").find((part) => part.includes(`>${label}</th>`)) ?? "";
    expect(row("returned")).toContain(words.text({ id: "cell.status.withheld", values: {} }));
    expect(row("displaced")).toContain(words.text({ id: "cell.status.unknown", values: {} }));
    expect(row("returned")).not.toMatch(/\d%/);
    expect(row("0 to 5 months")).toMatch(/\d%\*/);
  });

  it("leaves a table too long for a report to its file, and says so", async () => {
    const long = structuredClone(sampleResults);
    const table = long.checks.flatMap((check) => check.tables)[0];
    const row = table?.rows[0];
    if (table === undefined || row === undefined) throw new Error("the sample has no table");
    table.rows = Array.from({ length: 60 }, (_, i) => [`row-${i}`, ...row.slice(1)]);
    const html = await renderHtml(long, words);
    expect(html).not.toContain("row-0");
    expect(html).toContain(`tables/${table.id}.csv`);
  });

  it("names beside a citation what was not read in the source", () => {
    expect(page).toContain(words.text({ id: "source.short.memory", values: {} }));
    expect(page).toContain(words.text({ id: "source.status.practice", values: {} }));
  });

  it("calls invented data so on the cover, and only those", async () => {
    const said = words.text({ id: "cover.invented", values: {} });
    expect(textsOf(page).slice(0, 40)).toContain(said);
    const { survey } = sampleResults;
    const real = await renderHtml({ ...sampleResults, survey: { ...survey, invented: false } }, words);
    expect(textsOf(real)).not.toContain(said);
  });

  it("explains the marks of sources once where they are used, and in full in the last section", () => {
    for (const mark of ["*", "\u2021"]) expect(page).toContain(`<span class="mark">${mark}</span>`);
    const lists = [...page.matchAll(/<p class="citations">[\s\S]*?<\/p>/g)].map((match) => match[0]);
    expect(lists.length).toBeGreaterThan(2);
    const short = words.text({ id: "source.short.memory", values: {} });
    for (const list of lists) expect(list.split(short)).toHaveLength(list.includes('"mark">*<') ? 2 : 1);
    expect(lists.filter((list) => list.includes(short)).length).toBeGreaterThan(0);
    const full = words.text({ id: "source.status.memory", values: {} });
    expect(page.split(full)).toHaveLength(2);
  });

  it("says how the z-scores were computed, as far as it applies to the survey", () => {
    const ids = (results: Results): string[] => scoreMethods(results).map(({ id }) => id);
    const columns = { "birth-date": "a", "interview-date": "b", oedema: "c", "arm-circumference": "d" };
    const scores = sampleResults.children.scores;
    const full = { ...sampleResults, settings: { ...sampleResults.settings, columns } };
    expect(ids(full)).toContain("derive.method.age-dates");
    expect(ids(full)).toContain("exclusion.fixed.explain");
    expect(ids(full)).not.toContain("derive.method.age-completed");
    const settings = { ...full.settings, columns: { "age-months": "a" }, ageInMonths: "exact" as const };
    const months = { ...full, settings };
    expect(ids(months)).toContain("derive.method.age-exact");
    expect(ids(months)).not.toContain("derive.method.oedema");
    const arm = scores.map((score) => ({ ...score, computed: score.index === "arm-for-age" ? 50 : 0 }));
    const armOnly = { ...full, children: { ...full.children, scores: arm } };
    expect(ids(armOnly).filter((id) => /position|oedema|combined/.test(id))).toEqual([]);
    for (const id of ids(full)) expect(words.has(id), id).toBe(true);
  });

  it("carries the input's fingerprint, the settings and the version", () => {
    expect(page).toContain(sampleResults.input.sha256);
    expect(page).toContain(`>${words.text({ id: "setting.exclusions.width-around-mean", values: {} })}</th>`);
    expect(page).not.toContain("exclusions.widthAroundMean");
    expect(page).toContain(`Tareline ${sampleResults.tool.version}`);
  });

  it("renders the part on consequences only when the results have it, and numbers the rest without a gap", async () => {
    expect(page).toContain('<section id="consequence"');
    const without = await renderHtml(sampleResults, words);
    expect(without).not.toContain('id="consequence"');
    const numbers = [...without.matchAll(/class="sentence-number">(\d+)</g)].map((match) => Number(match[1]));
    expect(numbers).toEqual([1, 2, 3, 4, 5, 6, 7, 8]);
  });

  it("is the same bytes each time, and small", async () => {
    expect(await renderHtml(withConsequence(sampleResults), loadWords("en", more))).toBe(page);
    expect(Buffer.byteLength(page)).toBeLessThan(2_000_000);
  });
});

describe("hostile text of a survey", () => {
  const attack = "<script>alert(1)</script>";
  const formula = "=cmd|' /C calc'!A0";
  const closing = '</style><img src=x onerror=alert(2)>"; } body { display: none } /* {{own style}} \\';

  /** Every string of the survey's own becomes hostile. */
  function poisoned(results: Results): Results {
    const copy = structuredClone(results) as { -readonly [K in keyof Results]: Results[K] };
    copy.survey = { ...copy.survey, title: `"Quoted" ${closing}`, population: attack };
    copy.input = { ...copy.input, file: attack, encoding: formula };
    copy.settings = { ...copy.settings, title: formula, columns: { [attack]: closing, list: [attack] } };
    copy.checks = copy.checks.map((check) => ({
      ...check,
      groups: check.groups.map((group, i) => ({ ...group, label: i % 2 === 0 ? attack : formula })),
      charts: check.charts.map((chart) =>
        "panels" in chart
          ? ({ ...chart, panels: chart.panels.map((panel) => ({ ...panel, label: attack })) } as typeof chart)
          : chart,
      ),
      tables: check.tables.map((table) => ({ ...table, rows: table.rows.map(([, ...cells]) => [closing, ...cells]) })),
    }));
    copy.estimates = copy.estimates.map((estimate) => ({
      ...estimate,
      subgroups: estimate.subgroups.map((group) => ({
        ...group,
        columnName: closing,
        by: "column",
        cells: group.cells.map((cell) => ({ ...cell, label: attack })),
      })),
    }));
    return copy;
  }

  it("injects no tag, no attribute and no style", async () => {
    const html = await renderHtml(poisoned(sampleResults), words);
    expect(html).not.toContain("<script");
    expect(html).not.toContain("<img");
    expect(html).toContain("&lt;script&gt;alert(1)&lt;/script&gt;");
    expect(html.match(/<\/style>/g)).toHaveLength(1);
    const style = /<style>([\s\S]*?)<\/style>/.exec(html)?.[1] ?? "";
    expect(style).not.toMatch(/display: none \}|onerror=/);
    const tags = html.replace(/<style>[\s\S]*?<\/style>/, "").match(/<[^>]*>/g) ?? [];
    expect(tags.filter((tag) => / on\w+=/.test(tag.replace(/"[^"]*"/g, '""')))).toEqual([]);
  });
});

describe("markup", () => {
  it("writes any text as one string of a style sheet", () => {
    expect(cssString('a"b\\c\n</style>')).toBe('"a\\22 b\\5c c\\a \\3c \\2f style\\3e "');
    expect(cssString("Amber Hills, March 2025")).toBe('"Amber Hills, March 2025"');
  });

  it("makes different anchors of different texts", () => {
    expect(anchor("who-2006")).toBe("who-2006");
    expect(anchor("Who 2006")).not.toBe(anchor("who/2006"));
  });

  it("shortens a reference to its author and year", () => {
    expect(
      shortReference("Mei Z, Grummer-Strawn LM. Standard deviation of Z-scores. Bulletin 2007;85:441-8."),
    ).toContain("2007");
    expect(shortReference("Searle SR, Casella G. Variance Components. 1992. See also Satterthwaite FE. 1946.")).toBe(
      "Searle SR, 1992",
    );
  });
});

describe("the pseudo-language", () => {
  it("leaves no text of the page outside the words file", async () => {
    const pseudo = loadWords("xx", more);
    const html = await renderHtml(withConsequence(sampleResults), pseudo);
    const data = JSON.stringify([sampleResults, withConsequence(sampleResults).consequence, "xx"]);
    // Of what stays plain, everything must come from the results: names, file facts, settings, references. (A drawing breaks
    // its labels into lines: each line must then be found.)
    const plain = textsOf(html)
      .filter(
        (text) =>
          /[a-zA-Z]{2}/.test(text) &&
          !/[\u00e5\u00e7\u00e9\u00ee\u00f1\u00f6\u00fb\u00fd\u00c5\u00c7\u00c9\u00ce\u00d1\u00d6\u00db\u00dd[\]]/.test(
            text,
          ),
      )
      .map((text) => text.replaceAll("&#x27;", "'").replaceAll("&quot;", '\\"').replaceAll("&amp;", "&"));
    const strange = plain.filter(
      (text) => !data.includes(text) && !text.split(/[[\]\s,;()\u2013\u2014*]+/).every((word) => data.includes(word)),
    );
    expect(
      strange.filter((text) => !text.startsWith("Tareline ") && !/^(ageRange|exclusions|columns)\./.test(text)),
    ).toEqual([]);
    expect(plain.length).toBeGreaterThan(5);
  });
});

describe("settings", () => {
  const rows = (settings: Readonly<Record<string, unknown>>): string[][] =>
    settingsTable({ settings }, words).rows.map(({ head, cells }) => [head.text, ...cells.map(({ text }) => text)]);
  const said = (id: string, values = {}): string => words.text({ id, values });

  it("are named in words, with choices in words too", () => {
    expect(rows({ positionRule: "height", invented: true, expectations: { growthOfBirths: 0.025 } })).toEqual([
      [said("setting.position-rule"), said("setting.position-rule.height")],
      [said("setting.invented"), said("word.yes")],
      [said("setting.expectations.growth-of-births"), "2.5%"],
    ]);
  });

  it("clusters in the population, stratum by stratum or not given", () => {
    expect(rows({ clustersInPopulation: { North: 300 } })).toEqual([
      [said("setting.clusters-in-population.stratum", { stratum: "North" }), "300"],
    ]);
    expect(rows({ clustersInPopulation: null })).toEqual([
      [said("setting.clusters-in-population"), said("setting.not-given")],
    ]);
  });

  it("one without words keeps its own name", () => {
    expect(rows({ somethingNew: "x" })).toEqual([["somethingNew", "x"]]);
  });
});
