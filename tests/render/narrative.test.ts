import { createHash } from "node:crypto";
import { fileURLToPath } from "node:url";
import { beforeAll, describe, expect, it } from "vitest";
import { loadInput } from "../../src/cli/input.js";
import { plainSettings } from "../../src/compare/compare-settings.js";
import { readSurvey } from "../../src/compare/read-summary.js";
import { buildComparison } from "../../src/compare.js";
import { renderComparisonHtml } from "../../src/render/comparison.js";
import { renderHtml } from "../../src/render/html.js";
import { loadWords } from "../../src/render/words.js";
import { buildReport } from "../../src/report.js";
import type { Results } from "../../src/results/schema.js";

const samples = ["quillmar", "quillmar-clean", "two-rounds"] as const;
const words = loadWords("en");

async function resultsOf(file: string): Promise<Results> {
  const path = fileURLToPath(new URL(`../../sample-input/${file}.yaml`, import.meta.url));
  return buildReport({ ...(await loadInput(path)), date: null, version: "1.0.0" }).results;
}

async function twoRounds(): Promise<string> {
  const files = ["two-rounds/yundeth-2025-03", "two-rounds/yundeth-2025-10"];
  const summaries = [];
  for (const [at, file] of files.entries()) {
    const raw = JSON.parse(JSON.stringify(await resultsOf(file))) as unknown;
    const sha256 = createHash("sha256").update(file).digest("hex");
    const facts = { place: "Yundeth", round: null, group: null, population: null, clustersRevisited: false };
    const made = readSurvey(raw, { ...facts, file: `${at}/results.json`, sha256 });
    if ("refused" in made) throw new Error(made.refused.id);
    summaries.push(made.summary);
  }
  const settings = plainSettings(files, { name: "two-rounds", title: "Yundeth", language: "en" });
  return renderComparisonHtml(
    buildComparison({ summaries, refused: [], settings, date: null, version: "1.0.0" }),
    words,
  );
}

const entities: Readonly<Record<string, string>> = { "&amp;": "&", "&lt;": "<", "&gt;": ">", "&nbsp;": "\u00a0" };

/** The texts that a reader meets one after the other, block by block; pictures are told by their text alternative. */
function blocksOf(html: string): string[] {
  return html
    .replace(/<(style|head)\b[\s\S]*?<\/\1>/g, "")
    .replace(/<svg\b[^>]*aria-label="([^"]*)"[\s\S]*?<\/svg>/g, "<p>$1</p>")
    .replace(/<svg\b[\s\S]*?<\/svg>\s*/g, "")
    .replace(/<span class="hidden">[\s\S]*?<\/span>/g, "")
    .split(
      /<\/?(?:p|li|h\d|ul|ol|div|section|article|header|nav|main|figure|figcaption|t[a-z]+|caption|body|html)\b[^>]*>/,
    )
    .map((part) => part.replace(/<[^>]+>/g, "").replace(/&\w+;/g, (entity) => entities[entity] ?? entity))
    .map((part) => part.replace(/^\s+|\s+$/g, ""))
    .filter((part) => part !== "");
}

/**
 * The page between the first section, which gathers what stands here, and the last; without tables, lists of contents, keys of
 * figures and what is said on methods.
 */
function narrative(html: string): string {
  const from = html.indexOf("<section", html.indexOf('id="summary-title"'));
  return html
    .slice(from, html.indexOf('<section id="methods"'))
    .replace(/<table\b[\s\S]*?<\/table>/g, "")
    .replace(/<div class="method">[\s\S]*?<\/div>/g, "")
    .replace(/<ul class="(?:overview|key)">[\s\S]*?<\/ul>/g, "")
    .replace(/<p class="check-title">[\s\S]*?<\/p>/g, "")
    .replace(/<svg\b[\s\S]*?<\/svg>/g, "")
    .replace(/<details\b[\s\S]*?<\/details>/g, "");
}

const sentencesOf = (blocks: readonly string[]): string[] =>
  blocks.flatMap((block) => block.split(/(?<=[.?!])\s+/)).map((sentence) => sentence.trim());

/** Sentences worth noticing when they come again, by the sections they stand in: without tables, pictures and their keys. */
function sectionsOfSentences(html: string): Map<string, string[]> {
  const told = html
    .replace(/<(table|svg|details|style|head)\b[\s\S]*?<\/\1>/g, "")
    .replace(/<ul class="(?:overview|key)">[\s\S]*?<\/ul>/g, "");
  const found = new Map<string, string[]>();
  for (const [section, id = ""] of told.matchAll(/<section id="([^"]+)"[\s\S]*?<\/section>/g)) {
    const long = sentencesOf(blocksOf(section)).filter((sentence) => sentence.length > 60);
    for (const sentence of new Set(long)) found.set(sentence, [...(found.get(sentence) ?? []), id]);
  }
  return found;
}

/**
 * What may stand in two sections: findings, with what they could change, and what to do next. The first page gathers them, since
 * it is often all that is handed on; each leads to the section where it is told in full.
 */
function gathered(html: string): Set<string> {
  const summary = /<section id="summary"[\s\S]*?<\/section>/.exec(html)?.[0] ?? "";
  const lists = [...summary.matchAll(/<(ul|ol) class="(?:findings|steps)[^"]*">([\s\S]*?)<\/\1>/g)];
  const texts = lists.map(([, , list = ""]) => list.replace(/<span class="consequence">/g, "<p>"));
  return new Set(sentencesOf(blocksOf(texts.join(""))));
}

const holes = [
  / {2}/,
  / [,;]/,
  /\.\./,
  /NaN/,
  /undefined/,
  /\[\[/,
  /\b0 of 0\b/,
  /\b1 children\b/,
  /\bnull\b/,
  /\{\w+\}/,
  /\(\)/,
];

describe.each(samples)("what the report on %s says", (sample) => {
  let html = "";
  beforeAll(async () => {
    html = sample === "two-rounds" ? await twoRounds() : await renderHtml(await resultsOf(sample), words);
  });

  it("has no hole in it", () => {
    const blocks = blocksOf(html);
    expect(blocks.length).toBeGreaterThan(100);
    expect(blocks.filter((block) => holes.some((hole) => hole.test(block)))).toEqual([]);
  });

  it("says no sentence twice", () => {
    const long = sentencesOf(blocksOf(narrative(html))).filter((sentence) => sentence.length >= 40);
    expect(long.length).toBeGreaterThan(30);
    const seen = new Set<string>();
    expect(long.filter((sentence) => seen.size === seen.add(sentence).size)).toEqual([]);
  });

  it("says nothing in two sections but what the first page gathers", () => {
    const sentences = sectionsOfSentences(html);
    expect(sentences.size).toBeGreaterThan(80);
    const twice = [...sentences].filter(([, sections]) => sections.length > 1);
    const allowed = gathered(html);
    expect(allowed.size).toBeGreaterThan(2);
    const unlike = ([sentence, sections]: [string, string[]]): boolean =>
      sections.length > 2 || sections[0] !== "summary" || !allowed.has(sentence);
    expect(twice.filter(unlike)).toEqual([]);
  });
});

describe("the summaries of a troubled and of a clean survey", () => {
  it("share only the cautions", async () => {
    const stories = [(await resultsOf("quillmar")).story, (await resultsOf("quillmar-clean")).story];
    const [troubled, clean] = stories.map(({ sentence, paragraphs, findings, next }) =>
      sentencesOf(
        // What neither could tell for want of a column is told of both.
        [
          sentence,
          ...paragraphs.filter(({ id }) => id !== "story.unknown"),
          ...findings.map((finding) => finding.message),
          ...next,
        ].map((said) => words.text(said)),
      ),
    );
    // Two surveys of one population can truly allow the same to be said of it; what is left open, and by what, they do not share.
    const shared = troubled?.filter((sentence) => clean?.includes(sentence));
    expect(shared?.filter((sentence) => !sentence.startsWith("It can be said"))).toEqual([]);
    expect(stories[0]?.findings.length).toBeGreaterThan(stories[1]?.findings.length ?? 0);
    expect(stories[0]?.sentence.values).not.toEqual(stories[1]?.sentence.values);
  });
});
