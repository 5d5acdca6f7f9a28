import { message } from "../../results/message.js";
import type { Message } from "../../results/schema.js";
import { type Browser, type BrowserRequest, findBrowser } from "./find-browser.js";
import { PdfProblem } from "./pdf-problem.js";
import { type PrintJob, type PrintOptions, printPdfs } from "./print.js";

/** The PDFs in the order of their pages, or the one sentence that says why there is none and how to get it. */
export type PdfOutcome =
  | {
      readonly kind: "printed";
      readonly pdfs: readonly Uint8Array[];
      readonly browser: Browser;
      readonly note?: Message;
    }
  | { readonly kind: "not-printed"; readonly reason: Message };

/**
 * Finds a browser and prints with it. Where the packaged browser was found but does not start, an installed one is
 * tried. Where the machine forbids the browser its sandbox (some containers and Linux distributions do, to anyone but
 * root), the page is printed without: it is our own, runs no script and has no network. A report without its PDF is still a
 * report: what goes wrong with the browser is returned, not thrown.
 * The pages may still be in the making: the browser is started meanwhile. Where they fail, that is thrown.
 */
export async function makePdfs(
  job: PrintJob | Promise<PrintJob>,
  request: BrowserRequest,
  options: Omit<PrintOptions, "browser"> = {},
): Promise<PdfOutcome> {
  const search = await findBrowser(request);
  if (search.kind === "unusable") return { kind: "not-printed", reason: search.reason };
  if (search.kind === "none") {
    return {
      kind: "not-printed",
      reason: message("pdf.problem.none", { tried: search.tried }),
    };
  }
  const { browser } = search;
  try {
    return {
      kind: "printed",
      pdfs: await printPdfs(job, { ...options, browser }),
      browser,
    };
  } catch (error) {
    if (!(error instanceof PdfProblem)) throw error;
    const another = browser.source === "package" && ["cannot-start", "sandbox-refused"].includes(error.kind);
    if (another) {
      const next = await makePdfs(job, { ...request, without: ["package"] }, options);
      if (next.kind === "printed") return next;
    }
    if (error.kind === "sandbox-refused" && options.withoutSandbox !== true) {
      const next = await makePdfs(job, request, {
        ...options,
        withoutSandbox: true,
      });
      if (next.kind === "printed") return { ...next, note: message("pdf.without-sandbox") };
    }
    return { kind: "not-printed", reason: error.said };
  }
}
