import { type Document, Packer } from "docx";
import { escapeText } from "../markup.js";
import { faces } from "./styles.js";

/** What a document says of itself, beside its text. */
export interface Properties {
  readonly title: string;
  readonly description: string;
  /** As in `dc:language`. */
  readonly language: string;
  /** The program that made it, with its version. */
  readonly creator: string;
  /** ISO day; null where the document bears no date. */
  readonly madeOn: string | null;
}

const declaration = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>';

/** The core properties (ISO/IEC 29500-2), with the day of the results where the library would put the clock's. */
function coreProperties({ title, description, language, creator, madeOn }: Properties): string {
  const moment = (kind: string): string =>
    madeOn === null ? "" : `<dcterms:${kind} xsi:type="dcterms:W3CDTF">${madeOn}T00:00:00Z</dcterms:${kind}>`;
  return [
    declaration,
    '<cp:coreProperties xmlns:cp="http://schemas.openxmlformats.org/package/2006/metadata/core-properties"',
    ' xmlns:dc="http://purl.org/dc/elements/1.1/" xmlns:dcterms="http://purl.org/dc/terms/"',
    ' xmlns:dcmitype="http://purl.org/dc/dcmitype/" xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance">',
    `<dc:title>${escapeText(title)}</dc:title><dc:creator>${escapeText(creator)}</dc:creator>`,
    `<dc:description>${escapeText(description)}</dc:description><dc:language>${escapeText(language)}</dc:language>`,
    `<cp:lastModifiedBy>${escapeText(creator)}</cp:lastModifiedBy><cp:revision>1</cp:revision>`,
    `${moment("created")}${moment("modified")}</cp:coreProperties>`,
  ].join("");
}

/** The table of faces: what to take where the first choice is not installed. No face is embedded. */
function faceTable(): string {
  return [
    declaration,
    '<w:fonts xmlns:w="http://schemas.openxmlformats.org/wordprocessingml/2006/main">',
    `<w:font w:name="${faces.latin}"><w:altName w:val="${faces.instead}"/><w:family w:val="swiss"/>`,
    '<w:pitch w:val="variable"/></w:font>',
    `<w:font w:name="${faces.complex}"><w:family w:val="swiss"/><w:pitch w:val="variable"/></w:font></w:fonts>`,
  ].join("");
}

/** The earliest day that a zip file can name, 1 January 1980, and midnight. */
const earliest = { day: (1 << 5) | 1, time: 0 };
const entryOf = { local: 0x04034b50, central: 0x02014b50, end: 0x06054b50 };

/** Sets the date of every file in a zip to the earliest there is (APPNOTE.TXT 6.3.10, 4.3.7 and 4.3.12). */
export function withoutZipDates(zip: Uint8Array): Uint8Array {
  const bytes = Buffer.from(zip);
  const end = bytes.lastIndexOf(Buffer.from([0x50, 0x4b, 0x05, 0x06]));
  if (end < 0 || bytes.readUInt32LE(end) !== entryOf.end) throw new Error("Not a zip file.");
  let at = bytes.readUInt32LE(end + 16);
  for (let left = bytes.readUInt16LE(end + 10); left > 0; left -= 1) {
    const local = bytes.readUInt32LE(at + 42);
    if (bytes.readUInt32LE(at) !== entryOf.central || bytes.readUInt32LE(local) !== entryOf.local)
      throw new Error("A zip file that does not say where its parts are.");
    bytes.writeUInt16LE(earliest.time, at + 12);
    bytes.writeUInt16LE(earliest.day, at + 14);
    bytes.writeUInt16LE(earliest.time, local + 10);
    bytes.writeUInt16LE(earliest.day, local + 12);
    at += 46 + bytes.readUInt16LE(at + 28) + bytes.readUInt16LE(at + 30) + bytes.readUInt16LE(at + 32);
  }
  return bytes;
}

/** The document as a file. The same document gives the same bytes: no clock, no random name. */
export async function packed(document: Document, properties: Properties): Promise<Uint8Array> {
  const overrides = [
    { path: "docProps/core.xml", data: coreProperties(properties) },
    { path: "word/fontTable.xml", data: faceTable() },
  ];
  return withoutZipDates(await Packer.toBuffer(document, undefined, overrides));
}
