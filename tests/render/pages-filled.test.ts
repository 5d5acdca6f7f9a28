import { fileURLToPath } from "node:url";
import { getDocument, VerbosityLevel } from "pdfjs-dist/legacy/build/pdf.mjs";
import { beforeAll, describe, expect, it } from "vitest";
import { loadInput } from "../../src/cli/input.js";
import { renderHtml } from "../../src/render/html.js";
import { findBrowser } from "../../src/render/pdf/find-browser.js";
import { loadWords } from "../../src/render/words.js";
import { buildReport } from "../../src/report.js";
import type { Results } from "../../src/results/schema.js";
import { printPages } from "./pdf/print-page.js";

const search = await findBrowser();
const millimetre = 72 / 25.4;
/** Page and margins as in templates/style/margins.css, points from the foot of the page. */
const [top, bottom] = [(297 - 19) * millimetre, 18 * millimetre];
/** Smallest letters of a heading that stands over text, points: see --size-title-3 in print. */
const headingSize = 10.5;

interface Page {
  /** Share of the height for text that is used. */
  readonly filled: number;
  /** Size of the largest letters of the lowest line, but for one that only names a file of numbers: it says nothing by itself. */
  readonly lowest: number;
}

/** The texts of a page between its margins, drawings included. */
async function pagesOf(pdf: Uint8Array): Promise<Page[]> {
  const document = await getDocument({ data: Uint8Array.from(pdf), verbosity: VerbosityLevel.ERRORS }).promise;
  const pages: Page[] = [];
  for (let number = 1; number <= document.numPages; number += 1) {
    const { items } = await (await document.getPage(number)).getTextContent();
    const texts = items.flatMap((item) => ("str" in item && item.str.trim() !== "" ? [item] : []));
    const inside = texts
      .map(({ str, transform, height }) => ({ text: str, y: Number(transform[5]), height }))
      .filter(({ y }) => y >= bottom && y <= top);
    const [last] = inside.sort((a, b) => a.y - b.y);
    const note = inside.find(({ text, y }) => y === last?.y && /tables\//.test(text));
    const lowest = inside.find(({ y }) => note === undefined || y > note.y + 1);
    const line = inside.filter(({ y }) => Math.abs(y - (lowest?.y ?? Number.NaN)) < 1);
    pages.push({
      filled: (top - (last?.y ?? top)) / (top - bottom),
      lowest: Math.max(0, ...line.map(({ height }) => height)),
    });
  }
  await document.destroy();
  return pages;
}

const headingsApart = "@media print { .check h3 { break-after: page; } }";
const reports = [
  { survey: "quillmar", language: "en", style: "" },
  { survey: "quillmar", language: "ar", style: "" },
  { survey: "quillmar-clean", language: "en", style: "" },
  { survey: "quillmar-clean", language: "en", style: headingsApart },
] as const;

async function resultsOf(survey: string): Promise<Results> {
  const path = fileURLToPath(new URL(`../../sample-input/${survey}.yaml`, import.meta.url));
  return buildReport({ ...(await loadInput(path)), date: null, version: "1.0.0" }).results;
}

/** The pages of each report, all printed by one browser. */
async function allPrinted(): Promise<Page[][]> {
  if (search.kind !== "found") throw new Error("no browser");
  const results = { quillmar: await resultsOf("quillmar"), "quillmar-clean": await resultsOf("quillmar-clean") };
  const pages: string[] = [];
  for (const { survey, language, style } of reports)
    pages.push((await renderHtml(results[survey], loadWords(language))).replace("</style>", `${style}</style>`));
  const pdfs = await printPages(pages, { browser: search.browser, madeOn: "2031-05-09", withoutSandbox: true });
  const read: Page[][] = [];
  for (const pdf of pdfs) read.push(await pagesOf(pdf));
  return read;
}

const endsWithHeading = ({ lowest }: Page): boolean => lowest >= headingSize;

describe.skipIf(search.kind !== "found")("the printed pages of a report", () => {
  let all: Page[][] = [];
  beforeAll(async () => {
    all = await allPrinted();
  });

  it.each(reports.slice(0, 3).map(({ survey, language }, at) => ({ survey, language, at })))(
    "are filled, and none ends with a heading ($survey, $language)",
    ({ at }) => {
      const pages = all[at] ?? [];
      expect(pages.length).toBeGreaterThan(20);
      expect(pages.length).toBeLessThan(36);
      const before = pages.slice(0, -1);
      // A figure that does not fit moves to the next page whole: half a page may stay empty before the largest ones.
      expect(before.filter(({ filled }) => filled < 0.5)).toEqual([]);
      expect(before.filter(({ filled }) => filled < 0.7).length).toBeLessThanOrEqual(5);
      expect(before.reduce((sum, { filled }) => sum + filled, 0) / before.length).toBeGreaterThan(0.82);
      expect(pages.filter(endsWithHeading)).toEqual([]);
    },
  );

  it("would be seen to end with a heading", () => {
    expect(all[3]?.filter(endsWithHeading).length).toBeGreaterThan(10);
  });
});
