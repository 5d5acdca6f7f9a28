import { once } from "node:events";
import { chmodSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { createServer, type Server } from "node:http";
import type { AddressInfo } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { getDocument, VerbosityLevel } from "pdfjs-dist/legacy/build/pdf.mjs";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { type Browser, findBrowser } from "../../../src/render/pdf/find-browser.js";
import { makePdfs } from "../../../src/render/pdf/make-pdf.js";
import { PdfProblem } from "../../../src/render/pdf/pdf-problem.js";
import { printPage } from "./print-page.js";

// Whatever is installed on the machine, Linux on x64 must print with the browser that came with npm.
const search = await findBrowser({ environment: { ...process.env, PUPPETEER_EXECUTABLE_PATH: "" } });
const packagedHere = process.platform === "linux" && process.arch === "x64";
const withoutSandbox = true;
const madeOn = "2031-05-09";

function browser(): Browser {
  if (search.kind !== "found") throw new Error(`no browser: ${JSON.stringify(search)}`);
  return search.browser;
}

function readPdf(pdf: Uint8Array) {
  // pdfjs takes the bytes away from their owner, so it gets a copy.
  return getDocument({ data: Uint8Array.from(pdf), verbosity: VerbosityLevel.ERRORS }).promise;
}

async function textOf(pdf: Uint8Array): Promise<string> {
  const document = await readPdf(pdf);
  const pages = Array.from({ length: document.numPages }, async (_, index) => {
    const content = await (await document.getPage(index + 1)).getTextContent();
    return content.items.map((item) => ("str" in item ? item.str : "")).join(" ");
  });
  return (await Promise.all(pages)).join("\n");
}

const page = (body: string, head = "") =>
  `<!doctype html><html lang="fr"><head><meta charset="utf-8"><title>Relevé (essai)</title>${head}
<style>@page { size: A4; margin: 20mm; @bottom-right { content: counter(page) " / " counter(pages) } }
h2 { break-before: page }</style></head><body>${body}</body></html>`;

const sample = page(`<h1 id="carry">What it carries</h1><p>Écart &le; 1, &minus;2 &plusmn; 0.5</p>
<nav><a href="#who">Who</a> <a class="toc-page" href="#who"></a>
<a href="#how-é">How</a> <a class="toc-page" href="#how-é"></a></nav>
<svg role="img" aria-label="Weights crowd on 0 and 5" width="200" height="80"><rect width="90" height="50"/><text y="70">digit</text></svg>
<h2 id="who">Who was measured</h2><h3>By age</h3>
<table><caption>Children</caption><thead><tr><th scope="col">Age</th><th scope="col">n</th></tr></thead>
<tbody>${Array.from({ length: 120 }, (_, row) => `<tr><th scope="row">row${row}</th><td>${row}</td></tr>`).join("")}</tbody></table>
<h2 id="how-é">How it was measured</h2><p id="script">untouched</p><script>document.getElementById("script").textContent = "ran"</script>`);

describe.skipIf(search.kind !== "found" && !packagedHere)("printPage", () => {
  let pdf: Uint8Array;
  beforeAll(async () => {
    pdf = await printPage(sample, { browser: browser(), madeOn, withoutSandbox });
  });

  test("the browser of the npm package is found where it can run", () => {
    if (packagedHere) expect(browser().source).toBe("package");
  });

  test("the text is there, in order, with a repeated table head and page numbers in the margin", async () => {
    const text = await textOf(pdf);
    for (const words of ["Écart ≤ 1, −2 ± 0.5", "Who was measured", "row0", "row119", "How it was measured"]) {
      expect(text).toContain(words);
    }
    const pages = (await readPdf(pdf)).numPages;
    expect(pages).toBeGreaterThanOrEqual(4);
    expect(text).toContain(`2 / ${pages}`);
    expect(text.match(/Age\s+n/g)?.length).toBeGreaterThanOrEqual(2);
  });

  test("no script of the page runs", async () => {
    const text = await textOf(pdf);
    expect(text).toContain("untouched");
    expect(text).not.toMatch(/\bran\b/);
  });

  test("bookmarks follow the headings' levels", async () => {
    const outline = await (await readPdf(pdf)).getOutline();
    const tree = (items: typeof outline): unknown => items.map((item) => [item.title, tree(item.items)]);
    expect(tree(outline)).toEqual([
      [
        "What it carries",
        [
          ["Who was measured", [["By age", []]]],
          ["How it was measured", []],
        ],
      ],
    ]);
  });

  test("it is tagged: headings, table cells, and the picture's text alternative", async () => {
    const document = await readPdf(pdf);
    expect(await document.getMarkInfo()).toMatchObject({ Marked: true });
    const first = JSON.stringify(await (await document.getPage(1)).getStructTree());
    expect(first).toContain('"role":"H1"');
    expect(first).toContain('"alt":"Weights crowd on 0 and 5"');
    const second = JSON.stringify(await (await document.getPage(2)).getStructTree());
    for (const role of ["H2", "H3", "Table", "TH", "TD"]) expect(second).toContain(`"role":"${role}"`);
  });

  test("title and language are the page's, the dates are the run's", async () => {
    const { info } = await (await readPdf(pdf)).getMetadata();
    expect(info).toMatchObject({
      Title: "Relevé (essai)",
      Language: "fr",
      CreationDate: "D:20310509000000+00'00'",
      ModDate: "D:20310509000000+00'00'",
    });
  });

  test("links to a heading lead to its page, and the contents name that page", async () => {
    const document = await readPdf(pdf);
    const pageOf = async (id: string) => {
      const destination = await document.getDestination(encodeURIComponent(id));
      return 1 + (await document.getPageIndex(destination?.[0]));
    };
    const [who, how] = [await pageOf("who"), await pageOf("how-é")];
    expect(who).toBe(2);
    expect(how).toBe(document.numPages);
    expect(await textOf(pdf)).toMatch(new RegExp(`Who\\s+${who}\\s+How\\s+${how}`));
  });

  test("printing again, later, gives the same bytes", async () => {
    const printedAt = Date.now();
    while (Date.now() - printedAt < 1100) await new Promise((resolve) => setTimeout(resolve, 100));
    const again = await printPage(sample, { browser: browser(), madeOn, withoutSandbox });
    expect(Buffer.compare(Buffer.from(pdf), Buffer.from(again))).toBe(0);
  });

  test("another day changes the dates and nothing else", async () => {
    const other = await printPage(sample, { browser: browser(), madeOn: "2032-11-30", withoutSandbox });
    expect(other.length).toBe(pdf.length);
    const changed = other.reduce((count, byte, index) => count + (byte === pdf[index] ? 0 : 1), 0);
    expect(changed).toBeGreaterThan(0);
    expect(changed).toBeLessThanOrEqual(16);
  });

  test("a page without headings or links prints", async () => {
    const plain = await printPage("<p>alone</p>", { browser: browser(), madeOn, withoutSandbox });
    expect(await textOf(plain)).toContain("alone");
  });

  test("nothing is left in the folder for temporary files", async () => {
    const left = readdirSync(tmpdir()).filter((name) => name.startsWith("tareline-print-"));
    const before = new Set(left);
    await printPage("<p>alone</p>", { browser: browser(), madeOn, withoutSandbox });
    const after = readdirSync(tmpdir()).filter((name) => name.startsWith("tareline-print-") && !before.has(name));
    expect(after).toEqual([]);
  });
});

describe.skipIf(search.kind !== "found" && !packagedHere)("the network", () => {
  let server: Server;
  let address: string;
  let connections = 0;
  beforeAll(async () => {
    server = createServer((_, response) => response.end("reached"));
    server.on("connection", () => {
      connections += 1;
    });
    server.listen(0, "127.0.0.1");
    await once(server, "listening");
    address = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
  });
  afterAll(() => void server.close());

  test("is not touched by a page that asks for it in every way it can", async () => {
    // The counter can count: a request from here arrives.
    await (await fetch(address)).text();
    expect(connections).toBe(1);
    const head = `<link rel="preconnect" href="${address}"><link rel="prefetch" href="${address}/prefetch">
<link rel="stylesheet" href="${address}/sheet.css"><meta http-equiv="refresh" content="0; url=${address}/refresh">
<style>@import "${address}/import.css"; @font-face { font-family: far; src: url(${address}/font.woff2) }
body { font-family: far, sans-serif; background: url(${address}/background.png) }</style>`;
    const body = `<p>still here</p><img src="${address}/image.png" alt=""><iframe src="${address}/frame"></iframe>
<object data="${address}/object"></object><video src="${address}/video" autoplay></video>
<svg width="9" height="9"><image href="${address}/picture" width="9" height="9"/></svg>
<script src="${address}/script.js"></script><img src="${address.replace("127.0.0.1", "localhost")}/name.png" alt="">`;
    const pdf = await printPage(page(body, head), { browser: browser(), madeOn, withoutSandbox });
    expect(await textOf(pdf)).toContain("still here");
    expect(connections).toBe(1);
  });
});

describe.skipIf(process.platform === "win32")("a browser that fails", () => {
  const folder = mkdtempSync(join(tmpdir(), "failing-browser-"));
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  function script(name: string, lines: string): Browser {
    const executable = join(folder, name);
    writeFileSync(executable, `#!/bin/sh\n${lines}\n`);
    chmodSync(executable, 0o755);
    return { source: "option", executable, windowless: false, environment: {} };
  }

  async function problemWith(failing: Browser, html: string, timeLimit = 60_000): Promise<PdfProblem> {
    const outcome = await printPage(html, { browser: failing, madeOn, timeLimit, withoutSandbox }).catch(
      (error: unknown) => error,
    );
    expect(outcome).toBeInstanceOf(PdfProblem);
    return outcome as PdfProblem;
  }

  test("to start is told with its own last words", async () => {
    const failing = script("broken", "echo 'error while loading shared libraries: libmissing.so.3' >&2; exit 127");
    const problem = await problemWith(failing, "<p>x</p>");
    expect(problem.kind).toBe("cannot-start");
    expect(problem.said.values.detail).toContain("libmissing.so.3");
  });

  test("for want of a sandbox is told as such", async () => {
    const failing = script("unboxed", "echo '[1:1:FATAL:zygote_host.cc(129)] No usable sandbox!' >&2; exit 1");
    expect((await problemWith(failing, "<p>x</p>")).kind).toBe("sandbox-refused");
  });

  test("to answer is ended at the time limit", async () => {
    const problem = await problemWith(script("silent", "exec sleep 60"), "<p>x</p>", 1_500);
    expect(problem.kind).toBe("timed-out");
    expect(problem.said.values.seconds).toBe(1.5);
  });

  test.skipIf(search.kind !== "found")("in the middle of printing is told", async () => {
    const { executable, environment } = browser();
    const variables = Object.entries(environment).map(([name, value]) => `export ${name}='${value}'`);
    const lines = [...variables, `"${executable}" "$@" & pid=$!`, "sleep 1", 'kill -9 "$pid"'].join("\n");
    const long = page(`<table>${"<tr><td>cell</td><td>cell</td></tr>".repeat(60_000)}</table>`);
    expect((await problemWith(script("dying", lines), long)).kind).toBe("stopped");
  });

  test("never becomes a PDF, and the reason comes back as a message", async () => {
    const { executable } = script("useless", "exit 3");
    const outcome = await makePdfs({ pages: ["<p>x</p>"], madeOn }, { path: executable });
    expect(outcome).toMatchObject({ kind: "not-printed", reason: { id: "pdf.problem.cannot-start" } });
  });
});
