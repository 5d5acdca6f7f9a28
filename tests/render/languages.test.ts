import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { HtmlValidate } from "html-validate";
import { getDocument } from "pdfjs-dist/legacy/build/pdf.mjs";
import puppeteer, { type Browser } from "puppeteer";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { isEmbedded } from "../../src/render/charts/text-width.js";
import { renderComparisonHtml } from "../../src/render/comparison.js";
import { renderHtml } from "../../src/render/html.js";
import { findBrowser } from "../../src/render/pdf/find-browser.js";
import { launchOf } from "../../src/render/pdf/launch.js";
import { readPages } from "../../src/render/pdf/pages.js";
import { templateNames } from "../../src/render/templates.js";
import { loadWords } from "../../src/render/words.js";
import type { Comparison } from "../../src/results/comparison.js";
import type { Results } from "../../src/results/schema.js";
import { call } from "../cli/run-here.js";
import { axe } from "./axe.js";
import { printPages } from "./pdf/print-page.js";

const languages = templateNames("locales", ".json").map((name) => name.replace(".json", ""));
const pages = languages.flatMap((language) => (["report", "comparison"] as const).map((kind) => ({ language, kind })));

const folder = mkdtempSync(join(tmpdir(), "tareline-languages-"));
const search = await findBrowser();
let browser: Browser | undefined;
let results: Results;
let comparison: Comparison;
const drawn = new Map<string, Promise<string>>();

/** A page of the sample surveys in a language, drawn once. */
function pageOf({ language, kind }: (typeof pages)[number]): Promise<string> {
  const key = `${language} ${kind}`;
  const words = loadWords(language);
  const page =
    drawn.get(key) ?? (kind === "report" ? renderHtml(results, words) : renderComparisonHtml(comparison, words));
  drawn.set(key, page);
  return page;
}

beforeAll(async () => {
  const made = async (...args: string[]) => JSON.parse((await call([...args, "--json", "-"])).out);
  results = await made("report", "sample-input/quillmar.yaml");
  comparison = await made("compare", "sample-input/two-rounds");
  if ("browser" in search) browser = await puppeteer.launch(launchOf(search.browser, folder, false));
}, 60_000);
afterAll(async () => {
  await browser?.close();
  rmSync(folder, { recursive: true, force: true });
});

describe.each(pages)("the $kind in '$language'", ({ language, kind }) => {
  it("is valid HTML in that language and direction, with nothing missing", async () => {
    const page = await pageOf({ language, kind });
    expect(page).toContain(`<html lang="${language}" dir="${language === "ar" ? "rtl" : "ltr"}">`);
    expect(page.replace(/<style>[\s\S]*?<\/style>/g, "")).not.toMatch(/\[\[|NaN|undefined/);
    const validator = new HtmlValidate({ extends: ["html-validate:recommended", "html-validate:a11y"] });
    const report = await validator.validateString(page);
    const told = report.results.flatMap((result) => result.messages.map((each) => `${each.ruleId}: ${each.message}`));
    expect(told).toEqual([]);
  });

  it("has only signs that the embedded faces have", async () => {
    const text = (await pageOf({ language, kind })).replace(/<style>[\s\S]*?<\/style>/g, "").replace(/<[^>]*>/g, "");
    expect([...new Set(text)].filter((sign) => !/\s/.test(sign) && !isEmbedded(sign))).toEqual([]);
  });

  it("breaks no rule of axe-core and does not overflow, on a wide and on a narrow screen", async ({ skip }) => {
    if (browser === undefined) return skip();
    const page = await pageOf({ language, kind });
    // Names of rules and widths only: WCAG 2.2, levels A and AA, are among the rules that run.
    const { broken, passed, overflow } = await axe(browser, page, 1280);
    expect(broken).toEqual([]);
    expect(passed).toBeGreaterThan(20);
    expect(overflow).toBeLessThanOrEqual(0);
    expect(await overflowAt(320, page)).toBeLessThanOrEqual(0);
  }, 60_000);
});

/** How far a page is wider than a window of this width, px. */
async function overflowAt(width: number, page: string): Promise<number> {
  const tab = await (browser as Browser).newPage();
  await tab.setViewport({ width, height: 900 });
  await tab.setContent(page);
  const root = "document.documentElement";
  const overflow = (await tab.evaluate(`${root}.scrollWidth - ${root}.clientWidth`)) as number;
  await tab.close();
  return overflow;
}

interface Entry {
  readonly title: string;
  readonly items: readonly Entry[];
}
const titlesOf = (entries: readonly Entry[]): string[] =>
  entries.flatMap(({ title, items }) => [title, ...titlesOf(items)]);

/** The page up to the heading of its second section: what comes after does not bear on the first, and takes long to print. */
function beginningOf(html: string): string {
  const end = html.indexOf("</h2>", html.indexOf('<section id="who"'));
  return `${html.slice(0, end)}</h2></section></main></div></body></html>`;
}

describe.skipIf(!("browser" in search))("in print", () => {
  const whole = ["fr", "ar"];
  const firstPages = new Map<string, Uint8Array>();
  const reports = new Map<string, Uint8Array>();

  beforeAll(async () => {
    if (!("browser" in search)) return;
    const htmlOf = (language: string) => pageOf({ language, kind: "report" });
    const beginnings = (await Promise.all(languages.map(htmlOf))).map(beginningOf);
    const pages = [...beginnings, ...(await Promise.all(whole.map(htmlOf)))];
    const pdfs = await printPages(pages, { browser: search.browser, madeOn: "2024-10-19" });
    for (const [at, pdf] of pdfs.entries()) {
      const language = languages[at];
      if (language === undefined) reports.set(whole[at - languages.length] ?? "", pdf);
      else firstPages.set(language, pdf);
    }
  });

  it.each(languages)("the first page in '%s' holds the whole first section", (language) => {
    const { count, pageOf: at } = readPages(firstPages.get(language) as Uint8Array);
    expect([at.get("summary"), at.get("who"), count]).toEqual([1, 2, 2]);
  });

  it.each(whole)("the PDF in '%s' is tagged and titled, and names its language and its sections", async (language) => {
    const document = await getDocument({ data: new Uint8Array(reports.get(language) as Uint8Array), verbosity: 0 })
      .promise;
    const { info } = await document.getMetadata();
    expect(info).toMatchObject({ Title: results.survey.title, Language: language });
    expect(await document.getMarkInfo()).toMatchObject({ Marked: true });
    const words = loadWords(language);
    const titles = titlesOf((await document.getOutline()) as Entry[]).join("\n");
    for (const id of ["prevalence", "follow-up", "methods"]) {
      expect(titles).toContain(words.text({ id: `section.${id}`, values: {} }));
    }
    await document.destroy();
  });
});

describe("a page from right to left", () => {
  it("has mirrored drawings whose texts stay legible, and no text that runs into another", async ({ skip }) => {
    if (browser === undefined) return skip();
    const tab = await browser.newPage();
    await tab.setViewport({ width: 1280, height: 900 });
    await tab.setContent(await pageOf({ language: "ar", kind: "report" }));
    // Where the texts of a drawing stand on the screen, whatever transforms led there.
    const boxes = (await tab.evaluate(`[...document.querySelectorAll("svg.chart")].map((svg) => ({
      frame: svg.getBoundingClientRect().toJSON(),
      mirrored: [...svg.querySelectorAll("text")].filter((text) => text.textContent !== "" && text.getScreenCTM().a < 0 && text.getScreenCTM().d > 0).length,
      texts: [...svg.querySelectorAll("text")].map((text) => ({ ...text.getBoundingClientRect().toJSON(), text: text.textContent })),
    }))`)) as Drawing[];
    const visible = boxes.filter(({ frame }) => frame.width > 0);
    expect(visible.length).toBeGreaterThan(20);
    for (const { frame, mirrored, texts } of visible) {
      expect(mirrored).toBe(0);
      for (const each of texts) {
        expect(each.left, each.text).toBeGreaterThanOrEqual(frame.left - 3);
        expect(each.right, each.text).toBeLessThanOrEqual(frame.right + 3);
      }
      const upright = texts.filter(({ width, text }) => width > 0 && text.length > 2);
      expect(overlapping(upright)).toEqual([]);
    }
    await tab.close();
  }, 60_000);
});

interface Box {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
  readonly width: number;
  readonly text: string;
}
interface Drawing {
  readonly frame: Box;
  readonly mirrored: number;
  readonly texts: readonly Box[];
}

/** Pairs of texts that cover each other by more than the white space that their boxes have at their ends. */
function overlapping(texts: readonly Box[]): string[] {
  return texts.flatMap((one, i) =>
    texts
      .slice(i + 1)
      .filter((other) => other.text !== one.text)
      .filter((other) => Math.min(one.right, other.right) - Math.max(one.left, other.left) > 6)
      .filter((other) => Math.min(one.bottom, other.bottom) - Math.max(one.top, other.top) > 5)
      .map((other) => `${one.text} / ${other.text}`),
  );
}
