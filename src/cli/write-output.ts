import { basename, dirname, join } from "node:path";
import type { RenderedFiles } from "../render/files.js";
import type { Words } from "../render/words.js";
import { type OutputFile, writeReport } from "../render/write.js";
import type { Effects } from "./effects.js";
import { cannotWrite } from "./endings.js";
import type { Format } from "./output-options.js";
import { uncoveredSigns } from "./uncovered-signs.js";

/** A report or a comparison, and how it is drawn in a language. */
export interface Output {
  /** Name of the folder made in the output folder. */
  readonly name: string;
  /** Name of the page, without its ending. */
  readonly page: "report" | "comparison";
  /** File name of the document to edit. */
  readonly document: "annex.docx" | "comparison.docx";
  /** ISO day the output carries. */
  readonly madeOn: string | null;
  draw(words: Words): Promise<RenderedFiles>;
  drawDocument(words: Words): Promise<Uint8Array>;
  drawFigures(words: Words): Promise<readonly OutputFile[]>;
}

export interface WriteOptions {
  readonly out: string;
  readonly browser?: string | undefined;
  readonly formats: ReadonlySet<Format>;
  /** At least one. With several, each has a folder of its own in the output. */
  readonly languages: readonly Words[];
  /** Files of an earlier output to take over as they are. */
  readonly kept: readonly OutputFile[];
}

/** A PDF must carry a day; without any it carries the first day of the calendar computers count from, and prints none. */
const undated = "1970-01-01";

/** Prints the pages, one in each language, and says what is to be said of it; no PDFs where they could not be made. */
async function printed(
  drawing: Promise<readonly Drawn[]>,
  output: Output,
  options: WriteOptions,
  effects: Effects,
): Promise<readonly Uint8Array[]> {
  if (!options.formats.has("pdf")) return [];
  const { makePdfs } = await import("../render/pdf/make-pdf.js");
  const request = { path: options.browser, environment: { ...effects.environment } };
  const job = drawing.then((drawn) => ({ pages: drawn.map(({ html }) => html), madeOn: output.madeOn ?? undated }));
  const outcome = await makePdfs(job, request);
  const drawn = await drawing;
  const [words] = options.languages;
  const said = outcome.kind === "printed" ? outcome.note : outcome.reason;
  if (said !== undefined && words !== undefined) effects.say(words.text(said));
  if (outcome.kind !== "printed") return [];
  for (const { html, words: own } of drawn) {
    const signs = uncoveredSigns(html);
    if (signs.length > 0) effects.say(own.text({ id: "cli.uncovered-signs", values: { signs } }));
  }
  return outcome.pdfs;
}

/** The document to edit in a language; none where it is not asked for. */
async function documentFile(output: Output, { formats }: WriteOptions, words: Words): Promise<OutputFile[]> {
  if (!formats.has("docx")) return [];
  return [{ name: output.document, content: await output.drawDocument(words) }];
}

interface Drawn {
  readonly words: Words;
  readonly html: string;
  /** The page, where it is asked for. */
  readonly page: readonly OutputFile[];
  readonly numbers: readonly OutputFile[];
  /** Tables, and what is for the survey team only. */
  readonly tables: readonly OutputFile[];
}

async function drawnIn(words: Words, output: Output, { formats }: WriteOptions): Promise<Drawn> {
  const { html, files } = await output.draw(words);
  const isPage = ({ name }: OutputFile): boolean => name === `${output.page}.html`;
  const isNumbers = ({ name }: OutputFile): boolean => name.endsWith(".json");
  return {
    words,
    html,
    page: formats.has("html") ? files.filter(isPage) : [],
    numbers: files.filter(isNumbers),
    tables: files.filter((file) => !isPage(file) && !isNumbers(file)),
  };
}

/** Everything but the PDFs, in the order in which it is told. */
async function filesOf(drawn: readonly Drawn[], output: Output, options: WriteOptions, pdfs: readonly Uint8Array[]) {
  const edited = await Promise.all(options.languages.map((words) => documentFile(output, options, words)));
  const figures: (readonly OutputFile[])[] = [];
  for (const words of options.formats.has("figures") ? options.languages : []) {
    figures.push(await output.drawFigures(words));
  }
  const documents: OutputFile[] = [];
  const tables: OutputFile[] = [];
  for (const [i, { words, page, tables: own }] of drawn.entries()) {
    const pdf = pdfs.slice(i, i + 1).map((content): OutputFile => ({ name: `${output.page}.pdf`, content }));
    const folder = options.languages.length > 1 ? `${words.language}/` : "";
    const placed = ({ name, content }: OutputFile): OutputFile => ({ name: `${folder}${name}`, content });
    documents.push(...[...page, ...pdf, ...(edited[i] ?? [])].map(placed));
    tables.push(...[...own, ...(figures[i] ?? [])].map(placed));
  }
  return [...documents, ...(drawn[0]?.numbers ?? []), ...tables, ...options.kept];
}

/**
 * Draws, prints and writes an output in all its languages and formats; returns the paths written. Where a page is asked for, the
 * output is written before it is printed, so that a browser that hangs keeps nobody from the report; the PDFs then join it.
 */
export async function writeOutput(
  output: Output,
  options: WriteOptions,
  effects: Effects,
  onStage: (stage: string) => void,
): Promise<readonly string[]> {
  const { formats, languages } = options;
  const wantsPdf = formats.has("pdf");
  onStage("draw");
  const drawing = Promise.all(languages.map((words) => drawnIn(words, output, options)));
  // Started at once, so that the browser starts while the charts are being drawn.
  const printing = printed(drawing, output, options, effects);
  // What goes wrong with the drawing is thrown here once.
  printing.catch(() => {});
  const drawn = await drawing;
  const write = async (pdfs: readonly Uint8Array[]): Promise<readonly string[]> => {
    onStage("write");
    const all = await filesOf(drawn, output, options, pdfs);
    const { paths, leftBehind } = await writeReport(join(options.out, output.name), all);
    const [first] = languages;
    for (const left of leftBehind) effects.say(first?.text({ id: "cli.left-behind", values: { path: left } }) ?? left);
    return paths;
  };
  if (!wantsPdf) return write([]);
  const early = formats.has("html") ? await write([]) : null;
  onStage("print");
  const pdfs = await printing;
  if (pdfs.length > 0) return write(pdfs);
  if (early === null && !formats.has("docx")) effects.exitWith(cannotWrite);
  return early ?? write([]);
}

/** The paths worth saying: every file but tables and figures, and their folders once, so that the list stays short. */
export function pathsToSay(paths: readonly string[]): string[] {
  const isOneOfMany = (path: string): boolean => ["tables", "figures"].includes(basename(dirname(path)));
  const folders = new Set(paths.filter(isOneOfMany).map((path) => dirname(path)));
  return [...paths.filter((path) => !isOneOfMany(path)), ...folders];
}
