import { describe, expect, test } from "vitest";
import { wantsPageNumbers, withPageNumbers } from "../../../src/render/pdf/contents-pages.js";
import { setPdfDates } from "../../../src/render/pdf/dates.js";
import { setNodeNames } from "../../../src/render/pdf/node-names.js";
import { readPages } from "../../../src/render/pdf/pages.js";

const bytes = (text: string) => Uint8Array.from(Buffer.from(text, "latin1"));
const text = (pdf: Uint8Array) => Buffer.from(pdf).toString("latin1");

describe("setPdfDates", () => {
  test("puts the day in place of both dates, at the same length, and leaves the rest", () => {
    const before = "\xff/CreationDate (D:20261125085726-05'00')\n/ModDate (D:20261125085726Z)>>\xfe(D:20261125085726Z)";
    const after = text(setPdfDates(bytes(before), "2031-05-09"));
    expect(after).toBe(
      "\xff/CreationDate (D:20310509000000+00'00')\n/ModDate (D:20310509000000Z)>>\xfe(D:20261125085726Z)",
    );
  });

  test("does not change the bytes it was given, and refuses what has no dates or is no day", () => {
    const pdf = bytes("/CreationDate (D:20261125085726+00'00')");
    setPdfDates(pdf, "2031-05-09");
    expect(text(pdf)).toContain("20261125085726");
    expect(() => setPdfDates(bytes("nothing"), "2031-05-09")).toThrow();
    expect(() => setPdfDates(pdf, "9 May 2031")).toThrow();
  });
});

describe("setNodeNames", () => {
  test("numbers the parts from 1 in their old order, wherever they are named, at the same length", () => {
    const pdf = (first: number, second: number): string => {
      const [a, b] = [first, second].map((number) => `(node${String(number).padStart(8, "0")})`);
      return `\xff/ID ${b}>> /Headers [${a} ${b}] /Names [${a} 1 0 R ${b} 2 0 R] node00000009 \xfe`;
    };
    expect(text(setNodeNames(bytes(pdf(281, 290))))).toBe(pdf(1, 2));
    expect(text(setNodeNames(bytes(pdf(282, 291))))).toBe(pdf(1, 2));
    expect(text(setNodeNames(bytes("none")))).toBe("none");
  });
});

describe("readPages", () => {
  test("walks a nested page tree in order and decodes names", () => {
    const pdf = [
      "%PDF-1.4",
      "1 0 obj\n<</Type /Page\n/Parent 4 0 R>>\nendobj",
      "2 0 obj\n<</Type /Page\n/Parent 4 0 R>>\nendobj",
      "3 0 obj\n<</Length 9>> stream\n7 0 obj\n<<\nendstream\nendobj",
      "4 0 obj\n<</Type /Pages\n/Count 2\n/Kids [2 0 R 1 0 R]>>\nendobj",
      "5 0 obj\n<</Type /Page\n/Parent 6 0 R>>\nendobj",
      "6 0 obj\n<</Type /Pages\n/Count 3\n/Kids [5 0 R 4 0 R]>>\nendobj",
      "8 0 obj\n<</last [1 0 R /XYZ 6 8.5 0]\n/h#25C3#25A9 [2 0 R /XYZ 6 8 0]\n/gone [99 0 R /XYZ 6 8 0]>>\nendobj",
      "9 0 obj\n<</Type /Catalog\n/Pages 6 0 R\n/Dests 8 0 R>>\nendobj",
      "trailer\n<</Size 10\n/Root 9 0 R>>\nstartxref\n0\n%%EOF",
    ].join("\n");
    const pages = readPages(bytes(pdf));
    expect(pages.count).toBe(3);
    expect([...pages.pageOf]).toEqual([
      ["last", 3],
      ["hé", 2],
    ]);
  });

  test("finds no pages in what is no PDF, nor in a tree that turns in a circle", () => {
    expect(readPages(bytes("<html></html>")).count).toBe(0);
    const circle =
      "%PDF\n1 0 obj\n<</Type /Pages\n/Kids [1 0 R]>>\nendobj\n2 0 obj\n<</Pages 1 0 R>>\nendobj\ntrailer\n<</Root 2 0 R>>";
    expect(readPages(bytes(circle)).count).toBe(0);
  });
});

describe("withPageNumbers", () => {
  const html =
    '<a class="toc-page" href="#a"></a><a href="#b" class="x toc-page">0</a><a href="#a" class="toc-pages">A</a>';
  test("fills only the links that ask for it and whose page is known", () => {
    expect(wantsPageNumbers(html)).toBe(true);
    expect(wantsPageNumbers('<a href="#a">A</a>')).toBe(false);
    expect(withPageNumbers(html, new Map([["a", 12]]))).toBe(html.replace('#a"></a>', '#a">12</a>'));
    expect(withPageNumbers(html, new Map([["b", 3]]))).toBe(html.replace(">0<", ">3<"));
  });
});
