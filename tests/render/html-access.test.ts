import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import puppeteer, { type Browser } from "puppeteer";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { renderHtml } from "../../src/render/html.js";
import { findBrowser } from "../../src/render/pdf/find-browser.js";
import { launchOf } from "../../src/render/pdf/launch.js";
import { loadWords } from "../../src/render/words.js";
import { axe } from "./axe.js";
import { sampleResults, withConsequence } from "./sample-results.js";

const more = JSON.parse(readFileSync("tests/render/sample-words.json", "utf8")) as Record<string, string>;
const folder = mkdtempSync(join(tmpdir(), "tareline-access-"));
const search = await findBrowser();
let browser: Browser;
let html = "";

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
    const { broken, passed, overflow } = await axe(browser, html, width);
    expect(broken).toEqual([]);
    expect(passed).toBeGreaterThan(20);
    expect(overflow).toBeLessThanOrEqual(0);
  });

  it("would be told of a picture without a text alternative", async () => {
    const { broken } = await axe(
      browser,
      html.replace(/(<svg class="chart" role="img") aria-label="[^"]*"/, "$1"),
      1280,
    );
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
