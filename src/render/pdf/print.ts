import { rmSync } from "node:fs";
import { mkdtemp, rm } from "node:fs/promises";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Browser as Driven, Page } from "puppeteer";
import { message } from "../../results/message.js";
import { wantsPageNumbers, withPageNumbers } from "./contents-pages.js";
import { setPdfDates } from "./dates.js";
import type { Browser } from "./find-browser.js";
import { type Launch, launchOf } from "./launch.js";
import { readPages } from "./pages.js";
import { PdfProblem } from "./pdf-problem.js";
import { startFailure } from "./start-failure.js";

export interface PrintOptions {
  readonly browser: Browser;
  /** ISO day that the PDF carries as its date. */
  readonly madeOn: string;
  /** Milliseconds for the whole printing. Defaults to two minutes. */
  readonly timeLimit?: number;
  /**
   * Start the browser without its sandbox although the user is not root. Defaults to false. Some machines (containers,
   * Linux distributions that forbid unprivileged user namespaces) let a browser start in no other way.
   */
  readonly withoutSandbox?: boolean;
}

/** Page numbers that do not settle within this many prints stay out of the contents. */
const mostPrints = 4;

/**
 * Prints one self-contained HTML page as a tagged PDF with bookmarks; title and language are the page's own. Nothing
 * outside the page is fetched and no script of it runs. The same page, day and browser give the same bytes. A link of
 * class `toc-page` gets the page number of its target. Throws PdfProblem; the browser and its files are gone afterwards.
 */
export async function printPdf(html: string, options: PrintOptions): Promise<Uint8Array> {
  const workFolder = await mkdtemp(join(tmpdir(), "tareline-print-"));
  const removeOnExit = () => rmSync(workFolder, { recursive: true, force: true, maxRetries: 10 });
  process.once("exit", removeOnExit);
  try {
    const launch = launchOf(options.browser, workFolder, options.withoutSandbox ?? false);
    const pdf = await inBrowser(launch, options.timeLimit ?? 120_000, (page) => printSettled(page, html));
    return setPdfDates(pdf, options.madeOn);
  } finally {
    await rm(workFolder, { recursive: true, force: true, maxRetries: 10 });
    process.off("exit", removeOnExit);
  }
}

/** Starts the browser, does the work on one page, and ends the browser whatever happens. */
async function inBrowser<Result>(
  launch: Launch,
  timeLimit: number,
  work: (page: Page) => Promise<Result>,
): Promise<Result> {
  // Puppeteer kills the browser's whole process group when this signal comes.
  const end = new AbortController();
  const timer = setTimeout(() => end.abort(), timeLimit);
  const late = new Promise<never>((_, reject) => {
    const problem = new PdfProblem("timed-out", message("pdf.problem.timed-out", { seconds: timeLimit / 1000 }));
    end.signal.addEventListener("abort", () => reject(problem));
  });
  let driven: Driven | undefined;
  try {
    driven = await Promise.race([start(launch, timeLimit, end.signal), late]);
    const page = await Promise.race([driven.newPage(), late]);
    return await Promise.race([work(page), failureOf(driven, page), late]);
  } catch (error) {
    if (error instanceof PdfProblem) throw error;
    const detail = error instanceof Error ? error.message : String(error);
    throw new PdfProblem("stopped", message("pdf.problem.stopped", { detail }), { cause: error });
  } finally {
    clearTimeout(timer);
    await closed(driven);
  }
}

/**
 * Puppeteer's core. The package around it would look for a settings file from the current folder upwards, and run it:
 * nothing that lies beside a survey's data may change what this program does.
 */
function driver(): typeof import("puppeteer") {
  const puppeteer = createRequire(import.meta.url).resolve("puppeteer");
  return createRequire(puppeteer)("puppeteer-core");
}

async function start(launch: Launch, timeLimit: number, signal: AbortSignal): Promise<Driven> {
  try {
    return await driver().launch({
      ...launch,
      timeout: timeLimit,
      protocolTimeout: timeLimit,
      pipe: true,
      signal,
    });
  } catch (error) {
    throw signal.aborted ? error : await startFailure(launch, error);
  }
}

/** Never resolves; rejects when the page or the browser dies, which the call in progress need not notice. */
function failureOf(driven: Driven, page: Page): Promise<never> {
  return new Promise((_, reject) => {
    page.once("error", reject);
    driven.once("disconnected", () => reject(new Error("the browser ended")));
  });
}

/** A browser that does not end when asked is killed. */
async function closed(driven: Driven | undefined): Promise<void> {
  if (driven === undefined) return;
  const patience = setTimeout(() => driven.process()?.kill("SIGKILL"), 5_000);
  await driven.close().catch(() => undefined);
  clearTimeout(patience);
}

/** Prints until the contents name the pages that the print itself has. */
async function printSettled(page: Page, html: string): Promise<Uint8Array> {
  await closeOff(page);
  let pdf = await printOnce(page, html);
  if (!wantsPageNumbers(html)) return pdf;
  let numbered = html;
  for (let print = 1; print < mostPrints; print += 1) {
    const next = withPageNumbers(html, readPages(pdf).pageOf);
    if (next === numbered) return pdf;
    numbered = next;
    pdf = await printOnce(page, numbered);
  }
  const settled = withPageNumbers(html, readPages(pdf).pageOf) === numbered;
  return settled ? pdf : await printOnce(page, html);
}

/** Lets the page have what it carries in itself and nothing else, and none of its scripts. */
async function closeOff(page: Page): Promise<void> {
  await page.setJavaScriptEnabled(false);
  await page.setRequestInterception(true);
  page.on("request", (request) => {
    // Of the ways to refuse, this is the one after which a page that wanted to go elsewhere stays as it is.
    const answer = request.url().startsWith("data:") ? request.continue() : request.abort("aborted");
    answer.catch(() => undefined);
  });
}

async function printOnce(page: Page, html: string): Promise<Uint8Array> {
  await page.setContent(html, { waitUntil: "load", timeout: 0 });
  const pdf = await page.pdf({
    preferCSSPageSize: true,
    printBackground: true,
    outline: true,
    tagged: true,
    timeout: 0,
  });
  if (readPages(pdf).count === 0) throw new PdfProblem("empty", message("pdf.problem.empty"));
  return pdf;
}
