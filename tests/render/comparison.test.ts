import { HtmlValidate } from "html-validate";
import { beforeAll, describe, expect, it } from "vitest";
import { comparisonFiles } from "../../src/render/comparison.js";
import { headlineDifferences } from "../../src/render/view/comparison/summary.js";
import { loadWords } from "../../src/render/words.js";
import type { OutputFile } from "../../src/render/write.js";
import { type Comparison, comparisonSchema } from "../../src/results/comparison.js";
import { sampleComparison, sampleWords } from "./sample-comparison.js";

const words = loadWords("en", sampleWords);
const comparison = sampleComparison();
let page = "";
let files: readonly OutputFile[] = [];

const fileOf = (name: string): string => {
  const content = files.find((file) => file.name === name)?.content ?? "";
  return typeof content === "string" ? content : [...content].join("");
};
const linesOf = (name: string): number => fileOf(name).trimEnd().split("\r\n").length;

/** The part of the page between one section's beginning and the next. */
const sectionOf = (id: string): string => {
  const from = page.indexOf(`<section id="${id}"`);
  return page.slice(from, page.indexOf("</section>", from));
};

beforeAll(async () => {
  ({ html: page, files } = await comparisonFiles(comparison, words));
});

describe("the page of a comparison", () => {
  it("is drawn from what the schema accepts, with every word found", () => {
    expect(comparisonSchema.safeParse(comparison).error).toBeUndefined();
    expect([...words.missing]).toEqual([]);
    const texts = page.replace(/<style>[\s\S]*?<\/style>/g, "").split(/<[^>]*>/);
    expect(texts.filter((text) => /NaN|undefined|\[object|\[\[/.test(text))).toEqual([]);
  });

  it("stands alone: no script, no outside address", () => {
    expect(page).toContain("default-src 'none'");
    expect(page).not.toMatch(/<script|<iframe|<link|<img|<object|<form|@import|javascript:/i);
    expect(page.match(/https?:\/\/|(?:src|href)="(?!#)/g)).toBeNull();
  });

  it("has one main heading, no skipped level, unique ids, and links that lead somewhere", () => {
    const levels = [...page.matchAll(/<h([1-6])\b/g)].map((match) => Number(match[1]));
    expect(levels.filter((level) => level === 1)).toHaveLength(1);
    for (const [i, level] of levels.entries()) expect(level).toBeLessThanOrEqual((levels[i - 1] ?? 0) + 1);
    const ids = [...page.matchAll(/ id="([^"]+)"/g)].map((match) => match[1] ?? "");
    expect(new Set(ids).size).toBe(ids.length);
    const targets = [...page.matchAll(/ href="#([^"]+)"/g)].map((match) => match[1] ?? "");
    expect(targets.length).toBeGreaterThan(comparison.sections.length);
    expect(targets.filter((target) => !ids.includes(target))).toEqual([]);
  });

  it("is valid HTML", async () => {
    const validator = new HtmlValidate({ extends: ["html-validate:recommended", "html-validate:a11y"] });
    const told = async (html: string): Promise<string[]> => {
      const report = await validator.validateString(html);
      return report.results.flatMap((result) => result.messages.map((each) => `${each.ruleId}: ${each.message}`));
    };
    expect(await told(page)).toEqual([]);
    expect((await told(page.replace("<main ", "<main id='summary' "))).length).toBeGreaterThan(0);
  });

  it("has its sections in the order of the comparison, between the story and what is behind it", () => {
    const sections = [...page.matchAll(/<section id="([^"]+)"/g)].map((match) => match[1]);
    const own = comparison.sections.map(({ id }) => `compare-${id}`);
    expect(sections).toEqual(["summary", ...own, "refused", "methods"]);
  });

  it("says of a section without findings that there is nothing, and names every refused file as text", () => {
    expect(sectionOf("compare-teams")).toContain(words.text({ id: "page.compare.empty", values: {} }));
    expect(sectionOf("refused").match(/<tr><th scope="row"/g)).toHaveLength(comparison.refused.length);
    expect(sectionOf("refused")).toContain("&lt;b&gt;odd&lt;/b&gt;");
  });

  it("has no section on refused files where none was refused", async () => {
    const { html } = await comparisonFiles({ ...comparison, refused: [] }, words);
    expect(html).not.toContain('id="refused"');
  });

  it("gives the same bytes for the same comparison", async () => {
    expect((await comparisonFiles(comparison, words)).html === page).toBe(true);
  });

  it("shows the figure of every finding, as expected or not, and folds no short table", () => {
    const quality = sectionOf("compare-quality");
    const calm = quality.slice(quality.indexOf('id="block-quality-calm"'));
    expect(calm).toContain("<figure");
    const doubtful = quality.slice(0, quality.indexOf('id="block-quality-calm"'));
    expect(doubtful).toContain("<figure");
    expect(quality).not.toContain("<details");
  });

  it("repeats no paragraph on method", () => {
    const method = words.text(comparison.sections[0]?.blocks[0]?.method[0] ?? "");
    expect(page.split(`<p>${method}</p>`)).toHaveLength(2);
  });
});

describe("the files of a comparison", () => {
  it("are the page, the whole comparison, and a table for everything listed", () => {
    expect(files.slice(0, 2).map((file) => file.name)).toEqual(["comparison.html", "comparison.json"]);
    expect(JSON.parse(fileOf("comparison.json"))).toEqual(JSON.parse(JSON.stringify(comparison)));
    const names = files.map((file) => file.name);
    expect(new Set(names).size).toBe(names.length);
    expect(linesOf("tables/surveys.csv")).toBe(comparison.surveys.length + 1);
    expect(linesOf("tables/differences.csv")).toBe(comparison.differences.length + 1);
    expect(fileOf("tables/surveys.csv")).toContain(comparison.surveys[5]?.sha256);
  });

  it("hold every quality figure of every survey that is drawn", () => {
    const rows = comparison.sections
      .flatMap((section) => section.blocks.flatMap((block) => block.charts))
      .flatMap((chart) => (chart.kind === "against-chance" ? chart.panels.flatMap((panel) => panel.rows) : []));
    expect(rows.length).toBeGreaterThan(36);
    expect(linesOf("tables/quality.csv")).toBe(rows.length + 1);
  });
});

describe("the differences on the first page", () => {
  it("are clear ones, the strongest first, one for each pair of surveys", () => {
    const picked = headlineDifferences(comparison);
    expect(picked.length).toBeGreaterThan(1);
    for (const { difference } of picked) expect(["rise", "fall"]).toContain(difference.verdict);
    expect(new Set(picked.map(({ pair }) => pair.id)).size).toBe(picked.length);
  });

  it("are of the estimate told first, though a mean differs more clearly", () => {
    const rise = headlineDifferences(comparison)[0]?.difference;
    if (rise === undefined) throw new Error("the sample has no rise");
    const mean = { ...rise, estimate: "mean-weight-for-height", standardError: 0.001 };
    const picked = headlineDifferences({ ...comparison, differences: [...comparison.differences, mean] });
    expect(picked.find(({ pair }) => pair.id === rise.pair)?.difference.estimate).toBe("wasting");
    const alone = headlineDifferences({ ...comparison, differences: [mean] });
    expect(alone.map(({ difference }) => difference.estimate)).toEqual(["mean-weight-for-height"]);
  });

  it("leave no table where none is clear", async () => {
    const unclear: Comparison = {
      ...comparison,
      differences: comparison.differences.map((each) => ({ ...each, verdict: "no-clear-change" })),
    };
    expect(headlineDifferences(unclear)).toEqual([]);
    expect((await comparisonFiles(unclear, words)).html).not.toContain('id="summary-differences"');
  });

  it("take those between rounds before those between places, however strong", () => {
    const [first, ...others] = comparison.differences.filter(({ verdict }) => verdict === "rise");
    if (first === undefined) throw new Error("the sample has no rise");
    const pairs = comparison.pairs.map((pair) =>
      others.some((each) => each.pair === pair.id) ? { ...pair, question: "places" as const } : pair,
    );
    const differences = [{ ...first, standardError: 0.02 }, ...others];
    expect(headlineDifferences({ ...comparison, pairs, differences })[0]?.pair.id).toBe(first.pair);
  });
});

describe("five hundred surveys", () => {
  it("are drawn, with their long tables in files", async () => {
    const many = await comparisonFiles(sampleComparison(250, 2), words);
    expect(many.html.match(/<tr>/g)?.length).toBeLessThan(100);
    expect(many.html).toContain("tables/overview-wasting.csv");
    expect(many.html.length).toBeLessThan(4_000_000);
  });
});
