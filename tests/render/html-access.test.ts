import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join } from "node:path";
import puppeteer, { type Browser } from "puppeteer";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { renderHtml } from "../../src/render/html.js";
import { findBrowser } from "../../src/render/pdf/find-browser.js";
import { launchOf } from "../../src/render/pdf/launch.js";
import { loadWords } from "../../src/render/words.js";
import { sampleResults, withConsequence } from "./sample-results.js";

const more = JSON.parse(readFileSync("tests/render/sample-words.json", "utf8")) as Record<string, string>;
const axeSource = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const folder = mkdtempSync(join(tmpdir(), "tareline-access-"));
const search = await findBrowser();
let browser: Browser;
let html = "";

interface AxeResults {
  readonly violations: readonly { readonly id: string; readonly nodes: readonly { readonly html: string }[] }[];
  readonly passes: readonly unknown[];
}

/** Rules of axe-core that the page breaks at this width, and how many it passes. */
async function axe(page: string, width: number) {
  const tab = await browser.newPage();
  // The page's own policy forbids all scripts, so also this one.
  await tab.setBypassCSP(true);
  await tab.setViewport({ width, height: 900 });
  await tab.setContent(page);
  await tab.addScriptTag({ content: axeSource });
  const found = (await tab.evaluate("axe.run()")) as AxeResults;
  const overflow = (await tab.evaluate(
    "document.documentElement.scrollWidth - document.documentElement.clientWidth",
  )) as number;
  await tab.close();
  const broken = found.violations.map((each) => `${each.id}: ${each.nodes[0]?.html.slice(0, 120)}`);
  return { broken, passed: found.passes.length, overflow };
}

describe.skipIf(!("browser" in search))("in a browser", () => {
  beforeAll(async () => {
    if (!("browser" in search)) return;
    browser = await puppeteer.launch(launchOf(search.browser, folder, false));
    html = await renderHtml(withConsequence(sampleResults), loadWords("en", more));
  });
  afterAll(async () => {
    await browser.close();
    rmSync(folder, { recursive: true, force: true });
  });

  it.each([1280, 360])("breaks no rule of axe-core and does not overflow at %i px", async (width) => {
    const { broken, passed, overflow } = await axe(html, width);
    expect(broken).toEqual([]);
    expect(passed).toBeGreaterThan(20);
    expect(overflow).toBeLessThanOrEqual(0);
  });

  it("would be told of a picture without a text alternative", async () => {
    const { broken } = await axe(html.replace(/(<svg class="chart" role="img") aria-label="[^"]*"/, "$1"), 1280);
    expect(broken.join()).toContain("svg-img-alt");
  });

  it("sets every character in an embedded face", async () => {
    const tab = await browser.newPage();
    await tab.setContent(html);
    const loaded = (await tab.evaluate(
      "[...document.fonts].filter((f) => f.status === 'loaded').map((f) => f.family)",
    )) as string[];
    expect(new Set(loaded.map((family) => family.replaceAll('"', "")))).toEqual(
      new Set(["Tareline Sans", "Tareline Serif"]),
    );
    const widths = JSON.parse(readFileSync("templates/style/advance-widths.json", "utf8"))["400"] as object;
    const text = (await tab.evaluate("document.body.textContent")) as string;
    const strange = [...new Set(text)].filter((sign) => !/\s/.test(sign) && !Object.hasOwn(widths, sign));
    expect(strange).toEqual([]);
    await tab.close();
  });
});
