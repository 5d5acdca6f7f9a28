import { fileURLToPath } from "node:url";
import { getDocument, VerbosityLevel } from "pdfjs-dist/legacy/build/pdf.mjs";
import { beforeAll, describe, expect, it } from "vitest";
import { loadInput } from "../../src/cli/input.js";
import { renderComparisonHtml } from "../../src/render/comparison.js";
import { renderHtml } from "../../src/render/html.js";
import { findBrowser } from "../../src/render/pdf/find-browser.js";
import { loadWords } from "../../src/render/words.js";
import { buildReport } from "../../src/report.js";
import type { Comparison } from "../../src/results/comparison.js";
import type { Results } from "../../src/results/schema.js";
import { printPages } from "./pdf/print-page.js";
import { worstComparison, worstResults } from "./worst-case.js";

const languages = ["en", "fr", "es", "pt", "ar"] as const;
const search = await findBrowser();

/** The page without what stands after the first section, so that it prints quickly; what it drew there is not needed. */
function firstPage(html: string): string {
  const end = html.indexOf("</section>") + "</section>".length;
  expect(html.slice(0, end)).toContain('id="summary"');
  return `${html.slice(0, end)}</main></div></body></html>`;
}

/** Pages that each takes in print. */
async function pagesOf(...pages: readonly string[]): Promise<number[]> {
  if (search.kind !== "found") throw new Error("no browser");
  const pdfs = await printPages(pages, { browser: search.browser, madeOn: "2031-05-09", withoutSandbox: true });
  const read = pdfs.map((pdf) => getDocument({ data: Uint8Array.from(pdf), verbosity: VerbosityLevel.ERRORS }).promise);
  return (await Promise.all(read)).map(({ numPages }) => numPages);
}

const bare = (results: Results): Results => ({
  ...results,
  checks: results.checks.map((check) => ({ ...check, charts: [], tables: [] })),
});
const bareComparison = (comparison: Comparison): Comparison => ({
  ...comparison,
  sections: comparison.sections.map((section) => ({
    ...section,
    blocks: section.blocks.map((block) => ({ ...block, charts: [], tables: [] })),
  })),
});

describe.skipIf(search.kind !== "found")("the first printed page", () => {
  let sample: Results;
  beforeAll(async () => {
    const path = fileURLToPath(new URL("../../sample-input/quillmar.yaml", import.meta.url));
    sample = buildReport({ ...(await loadInput(path)), date: null, version: "1.0.0" }).results;
  });

  it.each(languages)(
    "of the sample, with every check in doubt, and of a comparison of surveys in doubt is one page (%s)",
    async (language) => {
      const worst = worstResults(sample, language);
      expect(worst.checks.filter(({ reading }) => reading === "doubt")).toHaveLength(sample.checks.length);
      expect(worst.story.findings).toHaveLength(sample.checks.length);
      const words = loadWords(language);
      const pages: string[] = [];
      for (const results of [sample, worst]) {
        const html = firstPage(await renderHtml(bare(results), words));
        expect(html.match(/<span class="consequence">/g)?.length).toBeGreaterThanOrEqual(2);
        pages.push(html);
      }
      const comparison = firstPage(await renderComparisonHtml(bareComparison(worstComparison(worst, language)), words));
      expect(comparison).toContain('class="table"');
      expect(await pagesOf(...pages, comparison)).toEqual([1, 1, 1]);
    },
  );

  it("would be seen to run over", async () => {
    const html = firstPage(await renderHtml(bare(sample), loadWords("en")));
    expect(await pagesOf(html.replace("</main>", `${"<p>One line more.</p>".repeat(20)}</main>`))).toEqual([2]);
  });
});
