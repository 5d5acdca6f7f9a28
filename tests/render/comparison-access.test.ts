import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import puppeteer, { type Browser } from "puppeteer";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { renderComparisonHtml } from "../../src/render/comparison.js";
import { findBrowser } from "../../src/render/pdf/find-browser.js";
import { launchOf } from "../../src/render/pdf/launch.js";
import { readPages } from "../../src/render/pdf/pages.js";
import { loadWords } from "../../src/render/words.js";
import { axe } from "./axe.js";
import { printPage } from "./pdf/print-page.js";
import { sampleComparison, sampleWords, withLongStory } from "./sample-comparison.js";

const folder = mkdtempSync(join(tmpdir(), "tareline-access-"));
const search = await findBrowser();
let browser: Browser;
let html = "";

describe.skipIf(!("browser" in search))("a comparison in a browser", () => {
  beforeAll(async () => {
    if (!("browser" in search)) return;
    browser = await puppeteer.launch(launchOf(search.browser, folder, false));
    html = await renderComparisonHtml(sampleComparison(), loadWords("en", sampleWords));
  });
  afterAll(async () => {
    await browser.close();
    rmSync(folder, { recursive: true, force: true });
  });

  it.each([1280, 360])("breaks no rule of axe-core and does not overflow at %i px", async (width) => {
    const { broken, passed, overflow } = await axe(browser, html, width);
    expect(broken).toEqual([]);
    expect(passed).toBeGreaterThan(20);
    expect(overflow).toBeLessThanOrEqual(0);
  });

  it("prints with the first section on the first page and every section on a page", async () => {
    if (!("browser" in search)) return;
    const { count, pageOf } = readPages(await printPage(html, { browser: search.browser, madeOn: "2025-11-28" }));
    expect(count).toBeGreaterThan(5);
    expect(pageOf.get("summary")).toBe(1);
    expect(pageOf.get("compare-comparability")).toBe(2);
    expect(pageOf.get("methods")).toBeGreaterThan(4);
  });

  it("keeps even a long story on the first page", async () => {
    if (!("browser" in search)) return;
    const long = withLongStory(sampleComparison(24, 3));
    const page = await renderComparisonHtml(long, loadWords("en", sampleWords));
    const { pageOf } = readPages(await printPage(page, { browser: search.browser, madeOn: "2025-11-28" }));
    expect(pageOf.get("compare-comparability")).toBe(2);
  });

  it("sets every character in an embedded face", () => {
    const widths = JSON.parse(readFileSync("templates/style/advance-widths.json", "utf8"))["400"] as object;
    const text = html.replace(/<style>[\s\S]*?<\/style>/g, "").replace(/<[^>]*>|&[a-z#0-9]+;/g, "");
    const strange = [...new Set(text)].filter((sign) => !/\s/.test(sign) && !Object.hasOwn(widths, sign));
    expect(strange).toEqual([]);
  });
});
