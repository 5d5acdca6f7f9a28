import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import type { Browser } from "puppeteer";

const axeSource = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

interface AxeResults {
  readonly violations: readonly { readonly id: string; readonly nodes: readonly { readonly html: string }[] }[];
  readonly passes: readonly unknown[];
}

/** Rules of axe-core that a page breaks at this width, how many it passes, and how far it is wider than the window. */
export async function axe(browser: Browser, page: string, width: number) {
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
