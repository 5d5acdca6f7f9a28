import { type ZipEntry, zipOf } from "./write-zip.js";

/** A cell: a text or number as it is, nothing, or one of the rarer kinds. */
export type Cell =
  | string
  | number
  | null
  | { readonly serial: number }
  | { readonly written: string }
  | { readonly formula: string; readonly value?: number | "" }
  | { readonly sharedCode: number }
  | { readonly error: string }
  | { readonly boolean: boolean }
  | { readonly inline: string };

export interface SheetContent {
  readonly name: string;
  readonly rows: readonly (readonly Cell[])[];
  /** Numbers of rows that are hidden. */
  readonly hidden?: readonly number[];
  readonly merged?: readonly string[];
}

export interface WorkbookOptions {
  readonly date1904?: boolean;
  /** Number format of dates; the built-in 14 where none is given. */
  readonly dateFormat?: string;
}

const declaration = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n';
const main = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";
const relationships = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
const packageRelationships = "http://schemas.openxmlformats.org/package/2006/relationships";
const contentTypes = "http://schemas.openxmlformats.org/package/2006/content-types";

function escaped(text: string): string {
  return text.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll(">", "&gt;").replaceAll('"', "&quot;");
}

function columnLetters(index: number): string {
  const rest = Math.floor(index / 26);
  return (rest === 0 ? "" : columnLetters(rest - 1)) + String.fromCharCode(65 + (index % 26));
}

class SharedTexts {
  readonly #codes = new Map<string, number>();

  code(text: string): number {
    const code = this.#codes.get(text) ?? this.#codes.size;
    this.#codes.set(text, code);
    return code;
  }

  xml(): string {
    const items = [...this.#codes.keys()].map((text) => `<si><t xml:space="preserve">${escaped(text)}</t></si>`);
    return `${declaration}<sst xmlns="${main}">${items.join("")}</sst>`;
  }
}

function cellXml(cell: Cell, address: string, texts: SharedTexts): string {
  if (cell === null) return "";
  if (typeof cell === "string") return `<c r="${address}" t="s"><v>${texts.code(cell)}</v></c>`;
  if (typeof cell === "number") return `<c r="${address}"><v>${cell}</v></c>`;
  if ("serial" in cell) return `<c r="${address}" s="1"><v>${cell.serial}</v></c>`;
  if ("written" in cell) return `<c r="${address}"><v>${cell.written}</v></c>`;
  if ("error" in cell) return `<c r="${address}" t="e"><v>${cell.error}</v></c>`;
  if ("boolean" in cell) return `<c r="${address}" t="b"><v>${cell.boolean ? 1 : 0}</v></c>`;
  if ("sharedCode" in cell) return `<c r="${address}" t="s"><v>${cell.sharedCode}</v></c>`;
  if ("inline" in cell) return `<c r="${address}" t="inlineStr"><is><t>${escaped(cell.inline)}</t></is></c>`;
  const value = cell.value === undefined ? "" : `<v>${cell.value}</v>`;
  return `<c r="${address}"><f>${escaped(cell.formula)}</f>${value}</c>`;
}

function sheetXml({ rows, hidden = [], merged = [] }: SheetContent, texts: SharedTexts): string {
  const lines = rows.map((row, i) => {
    const number = i + 1;
    const cells = row.map((cell, column) => cellXml(cell, `${columnLetters(column)}${number}`, texts));
    return `<row r="${number}"${hidden.includes(number) ? ' hidden="1"' : ""}>${cells.join("")}</row>`;
  });
  const merges = merged.map((ref) => `<mergeCell ref="${ref}"/>`).join("");
  const below = merges === "" ? "" : `<mergeCells count="${merged.length}">${merges}</mergeCells>`;
  return `${declaration}<worksheet xmlns="${main}"><sheetData>${lines.join("")}</sheetData>${below}</worksheet>`;
}

function relation(id: number, kind: string, target: string): string {
  return `<Relationship Id="rId${id}" Type="${relationships}/${kind}" Target="${target}"/>`;
}

function stylesXml(dateFormat: string | undefined): string {
  const own =
    dateFormat === undefined ? "" : `<numFmts><numFmt numFmtId="164" formatCode="${escaped(dateFormat)}"/></numFmts>`;
  const id = dateFormat === undefined ? 14 : 164;
  return `${declaration}<styleSheet xmlns="${main}">${own}<cellStyleXfs><xf numFmtId="14"/></cellStyleXfs><cellXfs><xf numFmtId="0"/><xf numFmtId="${id}"/></cellXfs></styleSheet>`;
}

/** The files of a workbook (ECMA-376 Part 1), as small as the format allows. */
export function workbookEntries(sheets: readonly SheetContent[], options: WorkbookOptions = {}): ZipEntry[] {
  const texts = new SharedTexts();
  const sheetFiles = sheets.map((sheet, i) => ({
    name: `xl/worksheets/sheet${i + 1}.xml`,
    content: sheetXml(sheet, texts),
  }));
  const types = sheets.map(
    (_, i) =>
      `<Override PartName="/xl/worksheets/sheet${i + 1}.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml"/>`,
  );
  const list = sheets.map(({ name }, i) => `<sheet name="${escaped(name)}" sheetId="${i + 1}" r:id="rId${i + 1}"/>`);
  const links = sheets.map((_, i) => relation(i + 1, "worksheet", `worksheets/sheet${i + 1}.xml`));
  const after = sheets.length + 1;
  const properties = options.date1904 === true ? '<workbookPr date1904="1"/>' : "";
  const officeType = "application/vnd.openxmlformats-officedocument.spreadsheetml";
  return [
    {
      name: "[Content_Types].xml",
      content: `${declaration}<Types xmlns="${contentTypes}"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="xml" ContentType="application/xml"/><Override PartName="/xl/workbook.xml" ContentType="${officeType}.sheet.main+xml"/><Override PartName="/xl/styles.xml" ContentType="${officeType}.styles+xml"/><Override PartName="/xl/sharedStrings.xml" ContentType="${officeType}.sharedStrings+xml"/>${types.join("")}</Types>`,
    },
    {
      name: "_rels/.rels",
      content: `${declaration}<Relationships xmlns="${packageRelationships}">${relation(1, "officeDocument", "xl/workbook.xml")}</Relationships>`,
    },
    {
      name: "xl/workbook.xml",
      content: `${declaration}<workbook xmlns="${main}" xmlns:r="${relationships}">${properties}<sheets>${list.join("")}</sheets></workbook>`,
    },
    {
      name: "xl/_rels/workbook.xml.rels",
      content: `${declaration}<Relationships xmlns="${packageRelationships}">${links.join("")}${relation(after, "styles", "styles.xml")}${relation(after + 1, "sharedStrings", "sharedStrings.xml")}</Relationships>`,
    },
    { name: "xl/styles.xml", content: stylesXml(options.dateFormat) },
    { name: "xl/sharedStrings.xml", content: texts.xml() },
    ...sheetFiles,
  ];
}

export function xlsxOf(sheets: readonly SheetContent[], options: WorkbookOptions = {}): Buffer {
  return zipOf(workbookEntries(sheets, options));
}

/** The day number of a spreadsheet for an ISO day, in the 1900 or 1904 system. */
export function serialOf(iso: string, system: 1900 | 1904 = 1900): number {
  const epoch = Date.parse(system === 1900 ? "1899-12-30T00:00:00Z" : "1904-01-01T00:00:00Z");
  return (Date.parse(`${iso}T00:00:00Z`) - epoch) / 86_400_000;
}
