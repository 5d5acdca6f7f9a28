import { describe, expect, it } from "vitest";
import { withReadBookmarks } from "../../../src/render/pdf/bookmarks.js";

const hex = (text: string): string => Buffer.from(text, "utf16le").swap16().toString("hex").toUpperCase();
const pdfOf = (...titles: string[]): Uint8Array =>
  Buffer.from(titles.map((title) => `1 0 obj\n<</Title <FEFF${hex(title)}>>>\nendobj\n`).join(""), "latin1");
const titlesOf = (pdf: Uint8Array): string[] =>
  [
    ...Buffer.from(pdf)
      .toString("latin1")
      .matchAll(/<FEFF([0-9A-F]+)>/g),
  ].map(([, title = ""]) => Buffer.from(title, "hex").swap16().toString("utf16le"));
const page = (direction: string, ...headings: string[]): string =>
  `<html lang="ar" dir="${direction}">${headings.map((heading) => `<h2 id="x">${heading}</h2>`).join("")}`;

describe("bookmarks of a page from right to left", () => {
  it("get the words of their heading in the order in which they are read, without moving a byte", () => {
    const pdf = pdfOf("العمل ما", "1 )المسح( هذا نتائج");
    const read = withReadBookmarks(pdf, page("rtl", "ما العمل", "<span>1</span> \u2068نتائج\u2069 هذا (المسح)"));
    expect(titlesOf(read)).toEqual(["ما العمل", "1 نتائج هذا (المسح)"]);
    expect(read.length).toBe(pdf.length);
  });

  it("are shortened where the browser has lost spaces, and said once where it has them twice", () => {
    const read = withReadBookmarks(
      pdfOf("2 المتابعةمن صفوف", "العمل ماالعمل ما", "العملما"),
      page("rtl", '2 المتابعة<span class="hidden">: </span> صفوف من', "ما العمل"),
    );
    expect(titlesOf(read).map((title) => title.trim())).toEqual(["المتابعة صفوف من", "ما العمل", "ما الع…"]);
  });

  it("stay where no heading has their letters, and so do those of a page from left to right", () => {
    expect(titlesOf(withReadBookmarks(pdfOf("العمل ما"), page("rtl", "آخر")))).toEqual(["العمل ما"]);
    expect(titlesOf(withReadBookmarks(pdfOf("العمل ما"), page("ltr", "ما العمل")))).toEqual(["العمل ما"]);
  });
});
