import { createHash } from "node:crypto";
import { fileURLToPath } from "node:url";
import { beforeAll, describe, expect, it } from "vitest";
import { loadInput } from "../../src/cli/input.js";
import { plainSettings } from "../../src/compare/compare-settings.js";
import { summaryOf } from "../../src/compare/read-summary.js";
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
    const made = summaryOf(raw, { ...facts, file: `${at}/results.json`, sha256 });
    if ("refused" in made) throw new Error(made.refused.id);
    summaries.push(made);
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
 * The page between the first section and the list of what to follow up, which both gather what stands here; without tables,
 * lists of contents, keys of figures and what is said on methods.
 */
function narrative(html: string): string {
  const from = html.indexOf("<section", html.indexOf('id="summary-title"'));
  const follow = html.indexOf('<section id="follow-up"');
  return html
    .slice(from, follow === -1 ? html.indexOf('<section id="methods"') : follow)
    .replace(/<table\b[\s\S]*?<\/table>/g, "")
    .replace(/<div class="method">[\s\S]*?<\/div>/g, "")
    .replace(/<ul class="(?:overview|key)">[\s\S]*?<\/ul>/g, "")
    .replace(/<p class="check-title">[\s\S]*?<\/p>/g, "")
    .replace(/<svg\b[\s\S]*?<\/svg>/g, "")
    .replace(/<details\b[\s\S]*?<\/details>/g, "");
}

const sentencesOf = (blocks: readonly string[]): string[] =>
  blocks.flatMap((block) => block.split(/(?<=[.?!])\s+/)).map((sentence) => sentence.trim());

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
});

describe("the summaries of a troubled and of a clean survey", () => {
  it("share only the cautions", async () => {
    const stories = [(await resultsOf("quillmar")).story, (await resultsOf("quillmar-clean")).story];
    const [troubled, clean] = stories.map(({ sentence, paragraphs, findings, next }) =>
      sentencesOf(
        [sentence, ...paragraphs, ...findings.map((finding) => finding.message), ...next].map((said) =>
          words.text(said),
        ),
      ),
    );
    expect(troubled?.filter((sentence) => clean?.includes(sentence))).toEqual([]);
    expect(stories[0]?.findings.length).toBeGreaterThan(stories[1]?.findings.length ?? 0);
    expect(stories[0]?.sentence.values).not.toEqual(stories[1]?.sentence.values);
  });
});
