import { readFileSync } from "node:fs";
import { inflateRawSync, inflateSync } from "node:zlib";
import { beforeAll, describe, expect, it } from "vitest";
import { stretchesOf } from "../../src/render/docx/directions.js";
import { indexedPng } from "../../src/render/docx/indexed-png.js";
import { bookmarkName } from "../../src/render/docx/inline.js";
import { renderComparisonDocx, renderDocx } from "../../src/render/docx/render-docx.js";
import { loadWords } from "../../src/render/words.js";
import { sampleComparison, sampleWords } from "./sample-comparison.js";
import { sampleResults, withConsequence } from "./sample-results.js";

const more = JSON.parse(readFileSync("tests/render/sample-words.json", "utf8")) as Record<string, string>;
const hostile = '<w:p> & "{list-of-steps-1}" \u0007\ud800 ]]>';
const results = {
  ...withConsequence(sampleResults),
  survey: { ...sampleResults.survey, title: hostile, invented: true },
};

/** Every file of a zip, by its central directory; and the dates that it gives them. */
function opened(zip: Uint8Array): { readonly files: Map<string, Buffer>; readonly dates: Set<string> } {
  const bytes = Buffer.from(zip);
  const end = bytes.lastIndexOf("PK\u0005\u0006");
  const files = new Map<string, Buffer>();
  const dates = new Set<string>();
  let at = bytes.readUInt32LE(end + 16);
  for (let left = bytes.readUInt16LE(end + 10); left > 0; left -= 1) {
    const [nameLength, extra, comment] = [28, 30, 32].map((where) => bytes.readUInt16LE(at + where)) as [
      number,
      number,
      number,
    ];
    const local = bytes.readUInt32LE(at + 42);
    const from = local + 30 + bytes.readUInt16LE(local + 26) + bytes.readUInt16LE(local + 28);
    const packed = bytes.subarray(from, from + bytes.readUInt32LE(at + 20));
    const name = bytes.toString("utf8", at + 46, at + 46 + nameLength);
    if (!name.endsWith("/")) files.set(name, bytes.readUInt16LE(at + 10) === 8 ? inflateRawSync(packed) : packed);
    dates.add(bytes.toString("hex", at + 12, at + 16)).add(bytes.toString("hex", local + 10, local + 14));
    at += 46 + nameLength + extra + comment;
  }
  return { files, dates };
}

/** What is wrong with a text as XML: tags that do not close in turn, bare ampersands, signs no document may hold. */
function xmlFaults(xml: string): string[] {
  const open: string[] = [];
  const faults: string[] = [];
  for (const [tag] of xml.replace(/^<\?xml[^>]*\?>/, "").matchAll(/<[^>]*>/g)) {
    const name = /^<\/?([\w:]+)/.exec(tag)?.[1];
    if (name === undefined) faults.push(tag);
    else if (tag.startsWith("</") && open.pop() !== name) faults.push(tag);
    else if (!tag.startsWith("</") && !tag.endsWith("/>")) open.push(name);
    if (!/^<\/?[\w:]+(\s+[\w:-]+="[^"<]*")*\s*\/?>$/.test(tag)) faults.push(tag);
  }
  if (/&(?!(amp|lt|gt|quot|apos|#\d+);)/.test(xml)) faults.push("&");
  if (/[^\t\n\r\P{Cc}]|[\p{Cs}\ufffe\uffff]/u.test(xml)) faults.push("control sign");
  return [...faults, ...open];
}

const all = (text: string, pattern: RegExp): string[] => [...text.matchAll(pattern)].map((match) => match[1] ?? "");

let first: Uint8Array;
let arabic: Uint8Array;
let files: Map<string, Buffer>;
let document = "";
const part = (name: string): string => files.get(name)?.toString("utf8") ?? "";

beforeAll(async () => {
  const words = loadWords("en", more);
  first = await renderDocx(results, words);
  arabic = await renderDocx(results, loadWords("ar", more));
  files = opened(first).files;
  document = part("word/document.xml");
  expect([...words.missing]).toEqual([]);
}, 60_000);

describe("the report as a document", () => {
  it("is the same bytes again, in the same process too, with no date of the clock", async () => {
    const again = await renderDocx(results, loadWords("en", more));
    expect(Buffer.compare(first, again)).toBe(0);
    // 1 January 1980, midnight: the earliest a zip file can name (APPNOTE.TXT 6.3.10, 4.4.6).
    expect([...opened(first).dates]).toEqual(["00002100"]);
    expect(all(part("docProps/core.xml"), /W3CDTF">([^<]*)</g)).toEqual(Array(2).fill(`${results.madeOn}T00:00:00Z`));
    expect(part("docProps/core.xml")).toContain("<dc:language>en-GB</dc:language>");
  }, 60_000);

  it("is well-formed in every part, whatever the data hold", () => {
    expect(xmlFaults("<a><b></a>")).not.toEqual([]);
    expect(xmlFaults("<a>&b</a>")).not.toEqual([]);
    for (const [name, bytes] of files) {
      if (/\.(xml|rels|svg)$/.test(name)) expect(xmlFaults(bytes.toString("utf8")), name).toEqual([]);
    }
    expect(document).toContain("&lt;w:p&gt; &amp; &quot;");
  });

  it("prints no hole and no message without words", () => {
    const texts = all(document, /<w:t[^>]*>([^<]*)<\/w:t>/g);
    expect(texts.length).toBeGreaterThan(300);
    expect(
      texts.filter((text) => /\[\[|undefined|NaN|\[object|[\u2066-\u2069]|[\u{f0000}-\u{ffffd}]/u.test(text)),
    ).toEqual([]);
  });

  it("has one title, headings that skip no level, and only styles that it defines", () => {
    const styles = new Set(all(part("word/styles.xml"), / w:styleId="([^"]*)"/g));
    const used = [...files].flatMap(([name, bytes]) =>
      name.startsWith("word/") && name.endsWith(".xml")
        ? all(bytes.toString("utf8"), /<w:[pr]Style w:val="([^"]*)"/g)
        : [],
    );
    expect(new Set(used).size).toBeGreaterThan(15);
    expect([...new Set(used)].filter((id) => !styles.has(id))).toEqual([]);
    expect(used.filter((id) => id === "Title")).toHaveLength(1);
    const levels = used.filter((id) => /^Heading\d$/.test(id)).map((id) => Number(id.slice(-1)));
    expect(levels.filter((level) => level === 1).length).toBeGreaterThanOrEqual(8);
    for (const [at, level] of levels.entries()) expect(level).toBeLessThanOrEqual((levels[at - 1] ?? 0) + 1);
    expect(part("word/styles.xml")).toMatch(/w:styleId="Caption"[^>]*><w:name w:val="caption"\/>/);
  });

  it("gives every picture a text alternative, an id of its own and both kinds of file", () => {
    const pictures = all(document, /<wp:docPr ([^>]*)\/?>/g);
    expect(pictures.length).toBeGreaterThan(10);
    expect(pictures.filter((attributes) => !/ descr="[^"]+"/.test(attributes))).toEqual([]);
    const ids = pictures.map((attributes) => /id="(\d+)"/.exec(attributes)?.[1]);
    expect(new Set(ids).size).toBe(ids.length);
    const targets = new Map(
      [...part("word/_rels/document.xml.rels").matchAll(/Id="([^"]*)"[^>]*Target="([^"]*)"/g)].map((match) => [
        match[1],
        match[2],
      ]),
    );
    const shown = (pattern: RegExp) => all(document, pattern).map((id) => files.get(`word/${targets.get(id)}`));
    for (const png of shown(/<a:blip r:embed="([^"]*)"/g)) expect(png?.toString("latin1", 1, 4)).toBe("PNG");
    for (const svg of shown(/<asvg:svgBlip [^>]*r:embed="([^"]*)"/g)) expect(svg?.toString()).toMatch(/^<svg xmlns=/);
    expect(shown(/<asvg:svgBlip [^>]*r:embed="([^"]*)"/g)).toHaveLength(pictures.length);
  });

  it("marks the header row of every table, and counts captions by fields", () => {
    const tables = all(document, /<w:tbl>([\s\S]*?)<\/w:tbl>/g);
    expect(tables.length).toBeGreaterThan(8);
    for (const table of tables) expect(table.match(/<w:tr>[\s\S]*?<\/w:tr>/)?.[0]).toContain("<w:tblHeader/>");
    const counted = [...document.matchAll(/w:instr=" SEQ (\w+) [^"]*"><w:r>(?:<w:rPr>.*?<\/w:rPr>)?<w:t[^>]*>(\d+)/g)];
    const numbersOf = (kind: string) => counted.filter((match) => match[1] === kind).map((match) => Number(match[2]));
    expect(numbersOf("Table")).toEqual(tables.map((_, at) => at + 1));
    expect(numbersOf("Figure")).toEqual(numbersOf("Figure").map((_, at) => at + 1));
    expect(numbersOf("Figure").length).toBeGreaterThan(8);
  });

  it("has links that lead somewhere, from bookmarks of unlike names and ids", () => {
    const names = all(document, /<w:bookmarkStart [^>]*w:name="([^"]*)"/g);
    const ids = all(document, /<w:bookmarkStart [^>]*w:id="([^"]*)"/g);
    expect(new Set(names).size).toBe(names.length);
    expect(new Set(ids).size).toBe(ids.length);
    expect(names.filter((name) => !/^[A-Za-z]\w{0,39}$/.test(name))).toEqual([]);
    const links = all(document, /<w:hyperlink [^>]*w:anchor="([^"]*)"/g);
    expect(links.length).toBeGreaterThan(20);
    expect(links.filter((link) => !names.includes(link))).toEqual([]);
    expect(bookmarkName(`a${"b".repeat(60)}`)).not.toBe(bookmarkName(`a${"b".repeat(61)}`));
  });

  it("lists its sections with their headings, as links with fields for the pages", () => {
    const entries = all(document, /<w:p>(<w:pPr><w:pStyle w:val="TOC1"\/>.*?)<\/w:p>/g);
    const written = (part: string): string => all(part, /<w:t[^>]*>([^<]*)<\/w:t>/g).join("");
    const headings = all(document, /<w:p>(<w:pPr><w:pStyle w:val="Heading1"\/>.*?)<\/w:p>/g).map(written);
    expect(headings.length).toBeGreaterThanOrEqual(8);
    expect(entries.map(written)).toEqual(headings);
    for (const entry of entries) {
      const target = /<w:hyperlink [^>]*w:anchor="([^"]*)"/.exec(entry)?.[1];
      // A page is known only where the document is laid out: the field has no result, and says so (ISO/IEC 29500-1, 17.16.18).
      expect(all(entry, /<w:instrText[^>]*>([^<]*)</g)).toEqual([` PAGEREF ${target} \\h `]);
      expect(all(entry, /w:fldCharType="(\w+)"/g)).toEqual(["begin", "separate", "end"]);
      expect(entry).toContain('w:dirty="true"');
      expect(entry).toContain("<w:tab/>");
    }
  });

  it("says on every page that data are invented, and stands on A4 with page numbers", () => {
    const short = loadWords("en").text({ id: "cover.invented.short", values: {} });
    expect(part("word/header1.xml")).toContain(short);
    expect(part("word/footer1.xml")).toMatch(/w:instr=" PAGE "[\s\S]*w:instr=" NUMPAGES "/);
    // A4 is 210 mm by 297 mm (ISO 216), in twentieths of a point.
    expect(document).toMatch(/<w:pgSz w:w="11906" w:h="16838"/);
  });

  it("runs from right to left in Arabic: paragraphs, tables, text", () => {
    const text = opened(arabic).files.get("word/document.xml")?.toString("utf8") ?? "";
    const paragraphs = all(text, /<w:p>([\s\S]*?)<\/w:p>/g);
    expect(paragraphs.length).toBeGreaterThan(200);
    expect(paragraphs.filter((paragraph) => !paragraph.includes("<w:bidi/>"))).toEqual([]);
    expect(text.match(/<w:bidiVisual\/>/g)).toHaveLength(text.match(/<w:tbl>/g)?.length ?? 0);
    const plain = [...text.matchAll(/<w:r>(?:<w:rPr>(.*?)<\/w:rPr>)?<w:t[^>]*>([^<]*)/g)];
    const arabicLetters = plain.filter((match) => /\p{Script=Arabic}/u.test(match[2] ?? ""));
    expect(arabicLetters.length).toBeGreaterThan(200);
    expect(arabicLetters.filter((match) => !(match[1] ?? "").includes("<w:rtl/>")).map((match) => match[2])).toEqual(
      [],
    );
    expect(text).not.toMatch(/[\u2066-\u2069]/);
    expect(opened(arabic).files.get("word/styles.xml")?.toString()).toContain('w:bidi="ar-SA"');
  });

  it("stays small enough to send", () => {
    expect(first.length).toBeLessThan(3_000_000);
  });
});

describe("its parts", () => {
  it("writes pixels that read back as the colours they were, few colours exactly and many nearly", () => {
    const read = (png: Uint8Array, count: number): number[] => {
      const bytes = Buffer.from(png);
      const chunk = (kind: string): Buffer => {
        const at = bytes.indexOf(kind, 8, "latin1");
        return bytes.subarray(at + 4, at + 4 + bytes.readUInt32BE(at - 4));
      };
      const rows = inflateSync(chunk("IDAT"));
      const width = chunk("IHDR").readUInt32BE(0);
      const places = Array.from(
        { length: count },
        (_, i) => rows[Math.floor(i / width) * (width + 1) + 1 + (i % width)] ?? 0,
      );
      return places.flatMap((place) => [0, 1, 2].map((channel) => chunk("PLTE")[3 * place + channel] ?? -1));
    };
    const few = Uint8Array.from([255, 0, 10, 255, 255, 0, 10, 255, 1, 2, 3, 255, 255, 255, 255, 255]);
    expect(read(indexedPng(few, 2), 4)).toEqual([255, 0, 10, 255, 0, 10, 1, 2, 3, 255, 255, 255]);
    const many = Uint8Array.from({ length: 4 * 1024 }, (_, at) => (at % 4 === 3 ? 255 : (at * 37) % 256));
    const back = read(indexedPng(many, 32), 1024);
    const wanted = [...many].filter((_, at) => at % 4 !== 3);
    expect(Math.max(...back.map((value, at) => Math.abs(value - (wanted[at] ?? 0))))).toBeLessThan(64);
  });

  it("cuts a text where its direction changes, and marks what runs the other way", () => {
    expect(stretchesOf("a \u20682025-03\u2069", false)).toEqual([{ text: "a 2025-03", rightToLeft: false }]);
    expect(stretchesOf("\u0627 \u20682025-03\u2069 \u0628 \u2068\u062c T2\u2069", true)).toEqual([
      { text: "\u0627 ", rightToLeft: true },
      { text: "\u200e2025-03\u200e", rightToLeft: false },
      { text: " \u0628 \u062c T2", rightToLeft: true },
    ]);
  });
});

describe("a comparison as a document", () => {
  it("is the same bytes again, with headings, tables and pictures", async () => {
    const comparison = sampleComparison(4, 2);
    const [one, other] = [
      await renderComparisonDocx(comparison, loadWords("en", sampleWords)),
      await renderComparisonDocx(comparison, loadWords("en", sampleWords)),
    ];
    expect(Buffer.compare(one, other)).toBe(0);
    expect(opened(one).files.get("word/document.xml")?.toString("utf8")).toContain(" PAGEREF at_summary ");
    const text = opened(one).files.get("word/document.xml")?.toString("utf8") ?? "";
    expect(xmlFaults(text)).toEqual([]);
    expect(text).not.toMatch(/\[\[|undefined|NaN/);
    expect(all(text, /<w:pStyle w:val="(Heading1)"/g).length).toBe(
      2 + comparison.sections.length + Math.min(1, comparison.refused.length),
    );
    expect(all(text, /<wp:docPr ([^>]*)>/g).length).toBeGreaterThan(0);
    expect(text).toContain("<w:tblHeader/>");
  }, 60_000);
});
