/** Hexadecimal titles of bookmarks: UTF-16, most significant byte first, after its byte order mark. */
const titleInPdf = /\/Title <FEFF([0-9A-Fa-f]+)>/g;
/** Spaces, and signs that steer the direction of writing: they may differ between a heading and its bookmark. */
const unseen = /[\s\u061C\u200B-\u200F\u202A-\u202E\u2066-\u2069]/g;

const named: Readonly<Record<string, string>> = { lt: "<", gt: ">", quot: '"', amp: "&", nbsp: "\u00A0" };

function textOf(markup: string): string {
  return markup
    .replace(/<[^>]*>/g, "")
    .replace(/&(?:#(\d+)|#x([\da-f]+)|(\w+));/gi, (whole, decimal, hexadecimal, name) =>
      name === undefined
        ? String.fromCodePoint(Number.parseInt(decimal ?? hexadecimal, decimal === undefined ? 16 : 10))
        : (named[name] ?? whole),
    )
    .replace(/[\u2066-\u2069]/g, "")
    .replace(/\s+/g, " ")
    .trim();
}

/** The same for all orders of the same letters. */
const lettersOf = (text: string): string => [...text.replace(unseen, "")].sort().join("");

/** Every heading of the page by its letters, with and without what only screen readers are told; a bookmark may have it twice. */
function headingsOf(html: string): Map<string, string> {
  const found = new Map<string, string>();
  for (const [, inner = ""] of html.matchAll(/<h[1-6]\b[^>]*>([\s\S]*?)<\/h[1-6]>/g)) {
    for (const markup of [inner, inner.replace(/<span class="hidden">[\s\S]*?<\/span>/g, " ")]) {
      const text = textOf(markup);
      found.set(lettersOf(text), text);
      found.set(lettersOf(text + text), text);
    }
  }
  return found;
}

/** The heading in the room of its bookmark, which may have lost spaces: without its number, or else its end. */
function fitted(heading: string, room: number): string {
  const shorter = heading.length > room ? heading.replace(/^\d+ /, "") : heading;
  return shorter.length > room ? `${shorter.slice(0, room - 1)}\u2026` : shorter.padEnd(room);
}

const decoded = (hexadecimal: string): string => Buffer.from(hexadecimal, "hex").swap16().toString("utf16le");
const encoded = (text: string): string => Buffer.from(text, "utf16le").swap16().toString("hex").toUpperCase();

/**
 * The same PDF with the bookmarks of a page from right to left in the order in which they are read: the browser writes their
 * words in the order in which they stand on the paper from the left (seen in Chromium 143). A title is written over by the heading of the
 * same letters, in the same length, so that no offset in the file moves; one that has no such heading stays. A page from left to right is left alone.
 */
export function withReadBookmarks(pdf: Uint8Array, html: string): Uint8Array {
  if (!/<html\b[^>]*\bdir="rtl"/.test(html)) return pdf;
  const headings = headingsOf(html);
  const bytes = Uint8Array.from(pdf);
  const text = Buffer.from(pdf.buffer, pdf.byteOffset, pdf.byteLength).toString("latin1");
  for (const { index, 1: hexadecimal = "" } of text.matchAll(titleInPdf)) {
    if (hexadecimal.length % 4 !== 0) continue;
    const printed = decoded(hexadecimal);
    const heading = headings.get(lettersOf(printed));
    if (heading === undefined) continue;
    bytes.set(Buffer.from(`/Title <FEFF${encoded(fitted(heading, printed.length))}>`, "latin1"), index);
  }
  return bytes;
}
