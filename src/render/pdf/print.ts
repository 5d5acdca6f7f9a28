import { rmSync } from "node:fs";
import { lstat, mkdtemp, readdir, rm } from "node:fs/promises";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Browser as Driven, Page } from "puppeteer";
import { message } from "../../results/message.js";
import { withReadBookmarks } from "./bookmarks.js";
import { wantsPageNumbers, withPageNumbers } from "./contents-pages.js";
import { setPdfDates } from "./dates.js";
import type { Browser } from "./find-browser.js";
import { type Launch, launchOf } from "./launch.js";
import { setNodeNames } from "./node-names.js";
import { readPages } from "./pages.js";
import { PdfProblem } from "./pdf-problem.js";
import { startFailure } from "./start-failure.js";

/** Pages to print, one PDF each. */
export interface PrintJob {
  readonly pages: readonly string[];
  /** ISO day that the PDFs carry as their date. */
  readonly madeOn: string;
}

export interface PrintOptions {
  readonly browser: Browser;
  /** Milliseconds for starting the browser, and for printing each page. Defaults to half a minute. */
  readonly timeLimit?: number;
  /**
   * Start the browser without its sandbox although the user is not root. Defaults to false. Some machines (containers,
   * Linux distributions that forbid unprivileged user namespaces) let a browser start in no other way.
   */
  readonly withoutSandbox?: boolean;
}

/** Milliseconds for each step: many times what the longest report takes to print on an old laptop. Own choice. */
const usualLimit = 30_000;

const workPrefix = "tareline-print-";
const abandonedAfter = 3_600_000;

/** Clears away what this user's earlier runs left when they were killed; one that still prints is far younger. */
async function removeAbandoned(folder: string): Promise<void> {
  const names = await readdir(folder).catch((): string[] => []);
  for (const name of names.filter((one) => one.startsWith(workPrefix))) {
    const path = join(folder, name);
    const state = await lstat(path).catch(() => null);
    const isOurs = state?.isDirectory() === true && (process.getuid === undefined || state.uid === process.getuid());
    if (state === null || !isOurs || Date.now() - state.mtimeMs < abandonedAfter) continue;
    await rm(path, { recursive: true, force: true }).catch(() => undefined);
  }
}

/** Page numbers that do not settle within this many prints stay out of the contents. */
const mostPrints = 4;

/**
 * Prints self-contained HTML pages as tagged PDFs with bookmarks; title and language are each page's own. Nothing outside
 * a page is fetched and no script of it runs. The same page, day and browser give the same bytes. A link of class
 * `toc-page` gets the page number of its target. The browser is started at once, and waits for pages that are still being
 * made; where they fail, that is what is thrown. Else throws PdfProblem; the browser and its files are gone afterwards.
 */
export async function printPdfs(job: PrintJob | Promise<PrintJob>, options: PrintOptions): Promise<Uint8Array[]> {
  const made = Promise.resolve(job);
  // Whoever waits for the pages is told that they failed; a browser that has failed before does not wait for them.
  made.catch(() => {});
  await removeAbandoned(tmpdir());
  const workFolder = await mkdtemp(join(tmpdir(), workPrefix));
  const removeOnExit = () => rmSync(workFolder, { recursive: true, force: true, maxRetries: 10 });
  process.once("exit", removeOnExit);
  try {
    const launch = launchOf(options.browser, workFolder, options.withoutSandbox ?? false);
    return await inBrowser(launch, options.timeLimit ?? usualLimit, made);
  } finally {
    await rm(workFolder, { recursive: true, force: true, maxRetries: 10 });
    process.off("exit", removeOnExit);
  }
}

/** A limit on the time that each step takes: `late` rejects and `signal` comes when a step takes longer. */
class TimeLimit {
  readonly #end = new AbortController();
  readonly late: Promise<never>;
  #timer: NodeJS.Timeout | undefined;

  constructor(readonly milliseconds: number) {
    this.late = new Promise((_, reject) => {
      const problem = new PdfProblem("timed-out", message("pdf.problem.timed-out", { seconds: milliseconds / 1000 }));
      this.#end.signal.addEventListener("abort", () => reject(problem));
    });
    this.late.catch(() => {});
  }

  get signal(): AbortSignal {
    return this.#end.signal;
  }

  /** The step, or the rejection that it took too long. */
  async within<Result>(step: Promise<Result>): Promise<Result> {
    this.#timer = setTimeout(() => this.#end.abort(), this.milliseconds);
    try {
      return await Promise.race([step, this.late]);
    } finally {
      clearTimeout(this.#timer);
    }
  }
}

/** Starts the browser, prints page after page once they are there, and ends the browser whatever happens. */
async function inBrowser(launch: Launch, milliseconds: number, made: Promise<PrintJob>): Promise<Uint8Array[]> {
  // Puppeteer kills the browser's whole process group when the limit's signal comes.
  const limit = new TimeLimit(milliseconds);
  let driven: Driven | undefined;
  try {
    const started = await limit.within(start(launch, milliseconds, limit.signal));
    driven = started;
    const { pages, madeOn } = await made.catch((error: unknown) => {
      throw new PagesFailed(error);
    });
    const pdfs: Uint8Array[] = [];
    for (const html of pages) {
      const pdf = setNodeNames(await limit.within(printedBy(started, html)));
      pdfs.push(withReadBookmarks(setPdfDates(pdf, madeOn), html));
    }
    return pdfs;
  } catch (error) {
    if (error instanceof PdfProblem) throw error;
    if (error instanceof PagesFailed) throw error.cause;
    const detail = error instanceof Error ? error.message : String(error);
    throw new PdfProblem("stopped", message("pdf.problem.stopped", { detail }), { cause: error });
  } finally {
    await closed(driven);
  }
}

/** The pages that the browser waited for could not be made. */
class PagesFailed extends Error {
  constructor(cause: unknown) {
    super("no pages", { cause });
  }
}

/** One page, printed in a tab of its own. */
async function printedBy(driven: Driven, html: string): Promise<Uint8Array> {
  const page = await driven.newPage();
  const pdf = await Promise.race([printSettled(page, html), failureOf(driven, page)]);
  await page.close();
  return pdf;
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
      // A signal ends the whole program (src/cli/endings.ts), and with it the browser.
      handleSIGINT: false,
      handleSIGTERM: false,
      handleSIGHUP: false,
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
  if (!wantsPageNumbers(html)) return printOnce(page, html);
  let numbered = withPageNumbers(html, readPages(await printDraft(page, html)).pageOf);
  for (let print = 1; print < mostPrints; print += 1) {
    const pdf = await printOnce(page, numbered);
    const next = withPageNumbers(html, readPages(pdf).pageOf);
    if (next === numbered) return pdf;
    numbered = next;
  }
  return printOnce(page, html);
}

const printed = { preferCSSPageSize: true, printBackground: true, timeout: 0 } as const;

/**
 * A print to read page numbers from, which takes half the time: the drawings are empty, at their full size, and nothing is
 * tagged. The print that follows tells whether its own pages are the same.
 */
async function printDraft(page: Page, html: string): Promise<Uint8Array> {
  const drawing = /(<svg\b[^>]*\bclass="chart"[^>]*>)[\s\S]*?<\/svg>/g;
  await page.setContent(html.replace(drawing, "$1</svg>"), { waitUntil: "load", timeout: 0 });
  return page.pdf({ ...printed, outline: false, tagged: false });
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
  const pdf = await page.pdf({ ...printed, outline: true, tagged: true });
  if (readPages(pdf).count === 0) throw new PdfProblem("empty", message("pdf.problem.empty"));
  return pdf;
}
