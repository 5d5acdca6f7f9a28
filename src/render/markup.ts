import { createHash } from "node:crypto";

/**
 * The only way past the automatic escaping: text that this project drew or wrote itself (its charts, its signs, its style
 * sheet). Whatever comes from a survey stays a plain string and is escaped.
 */
export class OwnMarkup {
  constructor(readonly text: string) {}
}

/** `&`, `<`, `>` and both quotes, for text and attribute values inside our own SVG. */
export function escapeText(text: string): string {
  return text
    .replaceAll("&", "&amp;")
    .replaceAll("<", "&lt;")
    .replaceAll(">", "&gt;")
    .replaceAll('"', "&quot;")
    .replaceAll("'", "&#39;");
}

/** A string literal of a style sheet: everything but letters, digits and plain signs becomes an escape by number. */
export function cssString(text: string): string {
  const escaped = Array.from(text, (sign) =>
    /[\p{L}\p{N} .,:;()\u2013\u2014\u00b7-]/u.test(sign) ? sign : `\\${sign.codePointAt(0)?.toString(16)} `,
  );
  return `"${escaped.join("")}"`;
}

/** An id for an anchor: letters, digits and hyphens of the text as they are; anything else makes it end in a digest. */
export function anchor(text: string): string {
  const plain = text
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, "-")
    .replace(/^-|-$/g, "");
  if (plain === text) return plain;
  return `${plain}-${createHash("sha256").update(text).digest("hex").slice(0, 6)}`;
}
