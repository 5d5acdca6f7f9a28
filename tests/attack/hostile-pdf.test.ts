import { execFileSync } from "node:child_process";
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { getDocument, VerbosityLevel } from "pdfjs-dist/legacy/build/pdf.mjs";
import { describe, expect, it } from "vitest";
import { findBrowser } from "../../src/render/pdf/find-browser.js";
import { loadWords } from "../../src/render/words.js";
import { emptyFolder } from "../cli/run-here.js";
import { csvOf, smallRows } from "../cli/small-survey.js";
import { printPage } from "../render/pdf/print-page.js";
import { program } from "../whole/program.js";

const search = await findBrowser({ environment: process.env });
const hasPdfToText = (() => {
  try {
    execFileSync("pdftotext", ["-v"], { stdio: "ignore" });
    return true;
  } catch {
    return false;
  }
})();

/**
 * Signs that no text of a page may hold: controls, halves of signs, overrides. Isolates are the program's own, and embeddings are
 * what pdftotext puts around Arabic.
 */
const unreadable = /(?![\n])[\p{Cc}\p{Cs}\u202D\u202E\uFFFE\uFFFF]/u;

/** Places whose names turn, steer or end what stands beside them. */
const areas = [
  "\u202Efarqu\u202D",
  "a\u0000rdo\u0007n\u001b[31m",
  "\u2067bexle",
  "فريق 12 الشمال",
  "\u2069\u2069corva\u202B",
];

interface Piece {
  readonly text: string;
  readonly left: number;
  readonly line: number;
}

/** The pieces of text of a PDF's pages with where they stand. */
async function piecesOf(pdf: Uint8Array): Promise<Piece[]> {
  const document = await getDocument({ data: Uint8Array.from(pdf), verbosity: VerbosityLevel.ERRORS }).promise;
  const pages = Array.from({ length: document.numPages }, async (_, page) => {
    const { items } = await (await document.getPage(page + 1)).getTextContent();
    return items.flatMap((item): Piece[] =>
      "str" in item && item.str.trim() !== ""
        ? [
            {
              text: item.str,
              left: item.transform[4] as number,
              line: page * 10_000 + Math.round(item.transform[5] as number),
            },
          ]
        : [],
    );
  });
  return (await Promise.all(pages)).flat();
}

describe.skipIf(search.kind !== "found")("hostile labels in a PDF", () => {
  it.skipIf(!hasPdfToText)("leave no sign that controls or turns text, and their own letters in order", async () => {
    const folder = emptyFolder();
    const rows = smallRows(200, 10).map((row, i) => ({ ...row, area: areas[i % areas.length] ?? "" }));
    writeFileSync(join(folder, "a.csv"), Buffer.from(`\uFEFF${csvOf(rows)}`, "utf16le"));
    const columns = ["cluster", "team", "area", "sex", "weight", "height"].map((name) => [name, name]);
    const settings = {
      title: "Round\u202E two \u0007of\u001b[31m hostile\u2067 labels",
      name: "a",
      population: "\u202Egnirts\u202D",
      data: "a.csv",
      columns: {
        ...Object.fromEntries(columns),
        "interview-date": "interview_date",
        "birth-date": "birth_date",
      },
    };
    writeFileSync(join(folder, "s.yaml"), JSON.stringify(settings));
    const ended = await program(["report", "s.yaml", "--formats", "pdf"], folder);
    expect([ended.code, / {4}at /.test(ended.err)]).toEqual([0, false]);
    const path = join(folder, "out", "a", "report.pdf");
    const text = execFileSync("pdftotext", ["-nopgbrk", path, "-"]).toString("utf8");
    expect(text.length).toBeGreaterThan(10_000);
    expect(unreadable.exec(text)?.[0]).toBeUndefined();
    expect(text.replace(/\s+/g, " ")).toContain("Round two of[31m hostile labels");
    for (const label of ["farqu", "ardon[31m", "bexle", "corva", "gnirts"]) expect(text, label).toContain(label);
    for (const turned of ["uqraf", "elxeb", "avroc", "string"]) expect(text).not.toMatch(new RegExp(`\\b${turned}\\b`));
    const told = execFileSync("pdfinfo", [path]).toString("utf8");
    expect(unreadable.exec(told)?.[0]).toBeUndefined();
    expect(readFileSync(path).includes("\u001b[31m")).toBe(false);
  });

  it("from right to left stand isolated: what follows them stays behind them", async () => {
    if (search.kind !== "found") return;
    const words = loadWords("en", { "attack.text": "Before {area}: {share, number, ::percent .0}, after" });
    const line = (area: string): string => `<p>${words.text({ id: "attack.text", values: { area, share: 0.5 } })}</p>`;
    const plain = (area: string): string => `<p>Before ${area}: 50.0%, after</p>`;
    const font = readFileSync(join(import.meta.dirname, "../../templates/style/fonts/arabic-400.woff2")).toString(
      "base64",
    );
    const face = `@font-face{font-family:a;src:url(data:font/woff2;base64,${font})}p{font-family:a,sans-serif}`;
    const area = "فريق 12";
    const page = (body: string): string =>
      `<!doctype html><html lang="en"><head><meta charset="utf-8"><title>t</title><style>${face}</style></head><body>${body}</body></html>`;
    const options = { browser: search.browser, madeOn: "2031-05-09", withoutSandbox: true };
    /** How far to the right the share stands, and the last of the label's own pieces. */
    const order = async (body: string) => {
      const pieces = (await piecesOf(await printPage(page(body), options))).sort((a, b) => a.left - b.left);
      const places = (test: RegExp): number[] => pieces.filter(({ text }) => test.test(text)).map(({ left }) => left);
      return {
        share: Math.min(...places(/50\.0/)),
        label: Math.max(...places(/[\u0600-\u06FF\uFB50-\uFEFC]/)),
        before: Math.min(...places(/Before/)),
      };
    };
    const isolated = await order(line(area));
    expect(isolated.before).toBeLessThan(isolated.label);
    expect(isolated.label).toBeLessThan(isolated.share);
    // Without isolates the same line is turned: the test above can fail.
    const turned = await order(plain("فريق"));
    expect(turned.share).toBeLessThan(turned.label);
  });
});
