import { type Archive, brokenFile } from "../archive.js";
import { InputError, inputProblem } from "../problem.js";
import { type DateSystem, showsDate } from "./number-format.js";
import { readXml } from "./xml.js";

/** One sheet of a workbook that holds cells. */
export interface SheetEntry {
  readonly name: string;
  /** Its file inside the workbook. */
  readonly path: string;
}

/** What all sheets of a workbook share. */
export interface WorkbookContents {
  readonly sheets: readonly SheetEntry[];
  readonly dateSystem: DateSystem;
  /** Texts that cells point to. */
  readonly texts: readonly string[];
  /** For each style of a cell, whether it shows a date. */
  readonly dateStyles: readonly boolean[];
}

interface Relation {
  readonly type: string;
  readonly path: string;
}

const officeMain = "/officeDocument";

/** A path from the root of the archive. It is looked up in the archive's own list and nowhere else; empty where it is none. */
function pathFrom(folder: string, target: string): string {
  try {
    return decodeURIComponent(new URL(target, `file:///${folder}`).pathname.slice(1));
  } catch {
    return "";
  }
}

/** The relations that a file of the workbook has to others: target paths by id, from the root of the archive. */
async function relationsOf(archive: Archive, path: string): Promise<Map<string, Relation>> {
  const at = path.lastIndexOf("/") + 1;
  const folder = path.slice(0, at);
  const relations = new Map<string, Relation>();
  const file = `${folder}_rels/${path.slice(at)}.rels`;
  if (!archive.entries.has(file)) return relations;
  await readXml(archive, file, {
    open: (name, attribute) => {
      if (name !== "Relationship") return;
      const path = pathFrom(folder, attribute("Target") ?? "");
      relations.set(attribute("Id") ?? "", { type: attribute("Type") ?? "", path });
    },
  });
  return relations;
}

/** Escapes such as _x000D_ that a workbook writes for signs XML cannot hold. */
export function unescapeText(text: string): string {
  if (!text.includes("_x")) return text;
  return text.replace(/_x([0-9A-Fa-f]{4})_/g, (_, code: string) => String.fromCharCode(Number.parseInt(code, 16)));
}

/** The shared texts. Runs of a rich text are joined; readings of East Asian words beside them are left out. */
async function sharedTexts(archive: Archive, path: string | undefined): Promise<string[]> {
  const texts: string[] = [];
  if (path === undefined || !archive.entries.has(path)) return texts;
  const limit = archive.limits.texts;
  const add = (finished: string): void => {
    if (texts.push(finished) <= limit) return;
    throw new InputError([inputProblem("file-too-large", archive.place, { details: { what: "cells", limit } })]);
  };
  let text = "";
  let inText = false;
  let reading = false;
  await readXml(archive, path, {
    open: (name) => {
      if (name === "si") text = "";
      else if (name === "t") inText = !reading;
      else if (name === "rPh") reading = true;
    },
    close: (name) => {
      if (name === "si") add(unescapeText(text));
      else if (name === "t") inText = false;
      else if (name === "rPh") reading = false;
    },
    text: (piece) => {
      if (inText) text += piece;
    },
  });
  return texts;
}

async function dateStylesOf(archive: Archive, path: string | undefined): Promise<boolean[]> {
  const styles: number[] = [];
  const codes = new Map<number, string>();
  if (path === undefined || !archive.entries.has(path)) return [];
  let inCells = false;
  await readXml(archive, path, {
    open: (name, attribute) => {
      if (name === "cellXfs") inCells = true;
      else if (name === "xf" && inCells) styles.push(Number(attribute("numFmtId") ?? 0));
      else if (name === "numFmt") codes.set(Number(attribute("numFmtId")), attribute("formatCode") ?? "");
    },
    close: (name) => {
      if (name === "cellXfs") inCells = false;
    },
  });
  return styles.map((id) => showsDate(id, codes.get(id)));
}

/** True for an archive that is a workbook. */
export function isWorkbook(archive: Archive): boolean {
  return archive.entries.has("[Content_Types].xml");
}

/** The list of sheets, the shared texts and the styles of a workbook (ECMA-376 Part 1, 18.2, 18.4, 18.8). */
export async function readContents(archive: Archive): Promise<WorkbookContents> {
  const roots = [...(await relationsOf(archive, "")).values()];
  const main = roots.find((relation) => relation.type.endsWith(officeMain))?.path;
  if (main === undefined || !archive.entries.has(main)) throw brokenFile(archive.place, "xlsx");
  const relations = await relationsOf(archive, main);
  const sheets: SheetEntry[] = [];
  let dateSystem: DateSystem = "1900";
  await readXml(archive, main, {
    open: (name, attribute) => {
      if (name === "workbookPr" && /^(?:1|true)$/.test(attribute("date1904") ?? "")) dateSystem = "1904";
      if (name !== "sheet") return;
      const relation = relations.get(attribute("id") ?? "");
      // Sheets that hold a chart alone have no cells.
      if (relation?.type.endsWith("/worksheet") !== true) return;
      sheets.push({ name: unescapeText(attribute("name") ?? ""), path: relation.path });
    },
  });
  const pathOf = (ending: string) => [...relations.values()].find((one) => one.type.endsWith(ending))?.path;
  const texts = await sharedTexts(archive, pathOf("/sharedStrings"));
  return { sheets, dateSystem, texts, dateStyles: await dateStylesOf(archive, pathOf("/styles")) };
}
