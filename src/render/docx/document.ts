import { Document, Footer, Header, PageOrientation, Paragraph, type ParagraphChild, SimpleField } from "docx";
import type { Comparison } from "../../results/comparison.js";
import { message } from "../../results/message.js";
import type { Results } from "../../results/schema.js";
import { withoutIsolates } from "../isolate.js";
import { comparisonView } from "../view/comparison/page.js";
import { type FrameView, footer, type Made, pageView } from "../view/page.js";
import type { Words } from "../words.js";
import { writeComparisonBody } from "./comparison-body.js";
import { contentsParagraphs } from "./contents.js";
import { directionOf, filled, placeOf, printable, runsOf } from "./inline.js";
import { packed } from "./package.js";
import { writeReportBody } from "./report-body.js";
import { languageTag, numberingOf, stylesOf } from "./styles.js";
import { Writer } from "./writer.js";

/** A4 and its margins, in twentieths of a point. */
const page = {
  size: { width: 11906, height: 16838, orientation: PageOrientation.PORTRAIT },
  margin: { top: 1304, bottom: 1191, left: 1247, right: 1247, header: 567, footer: 567 },
};

/** The report of a survey as an editable document. */
export async function reportDocument(results: Results, words: Words): Promise<Uint8Array> {
  const view = pageView(results, words);
  const writer = new Writer(words);
  await writeReportBody(writer, view);
  return documentOf(view, writer, results, results.survey.invented);
}

/** A comparison of surveys as an editable document. */
export async function comparisonDocument(comparison: Comparison, words: Words): Promise<Uint8Array> {
  const view = comparisonView(comparison, words);
  const writer = new Writer(words);
  await writeComparisonBody(writer, view);
  return documentOf(view, writer, comparison, comparison.comparison.invented);
}

/** Title, cover facts and contents before the sections, and what stands on every page. */
async function documentOf(view: FrameView, writer: Writer, made: Made, invented: boolean): Promise<Uint8Array> {
  const { words } = writer;
  const creator = `${made.tool.name} ${made.tool.version}`;
  const title = printable(withoutIsolates(view.title));
  const description = printable(withoutIsolates(view.description));
  const document = new Document({
    creator,
    lastModifiedBy: creator,
    title,
    description,
    styles: stylesOf(words),
    numbering: numberingOf(),
    sections: [
      {
        properties: { page },
        headers: { default: headerOf(view, invented, words) },
        footers: { default: footerOf(made, words) },
        children: [...cover(view, writer.sections, words), ...writer.children],
      },
    ],
  });
  const { madeOn } = made;
  return packed(document, { title, description, creator, madeOn, language: languageTag(words) });
}

function cover(view: FrameView, sections: Writer["sections"], words: Words): Writer["children"] {
  const cover = new Writer(words);
  cover.paragraph("Subtitle", view.kind);
  cover.paragraph("Title", view.title);
  if (view.population !== "") cover.paragraph("Subtitle", view.population);
  cover.paragraph("facts", words.parts(view.facts));
  if (view.invented !== null) cover.paragraph("invented", view.invented);
  cover.paragraph("TOCHeading", cover.text("page.contents"));
  const { width } = page.size;
  const { left, right } = page.margin;
  return [...cover.children, ...contentsParagraphs(sections, words, width - left - right)];
}

function headerOf(view: FrameView, invented: boolean, words: Words): Header {
  const short = invented ? [words.text(message("cover.invented.short"))] : [];
  const lines = [view.title, ...short].map(
    (text, at) =>
      new Paragraph({
        style: "Header",
        ...directionOf(words),
        children: runsOf(text, words, at === 0 ? {} : { bold: true }),
      }),
  );
  return new Header({ children: lines });
}

function footerOf(made: Made, words: Words): Footer {
  const field = (name: string): ParagraphChild[] => [new SimpleField(` ${name} `, "1")];
  const text = words.text(message("docx.page", { page: placeOf(0), pages: placeOf(1) }));
  return new Footer({
    children: [
      new Paragraph({ style: "Footer", ...directionOf(words), children: runsOf(footer(made, false, words), words) }),
      new Paragraph({
        style: "Footer",
        ...directionOf(words),
        children: filled(text, [field("PAGE"), field("NUMPAGES")], words),
      }),
    ],
  });
}
