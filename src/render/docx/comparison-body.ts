import type { BlockView } from "../view/comparison/block.js";
import type { ComparisonView } from "../view/comparison/page.js";
import { linkTo } from "./inline.js";
import { writeMethod, writeSources } from "./sources.js";
import type { Writer } from "./writer.js";

/** The sections of a comparison in the order of the page. */
export async function writeComparisonBody(writer: Writer, view: ComparisonView): Promise<void> {
  summary(writer, view.summary);
  for (const section of view.sections) {
    writer.section(section);
    writer.overview(section.overview);
    if (section.inFiles !== null) writer.paragraph("note", section.inFiles);
    if (section.blocks.length === 0) writer.body(writer.text("page.compare.empty"));
    for (const block of section.blocks) await oneBlock(writer, block);
  }
  if (view.refused !== null) {
    writer.section(view.refused);
    writer.table(view.refused.table);
  }
  methods(writer, view.methods);
}

function summary(writer: Writer, view: ComparisonView["summary"]): void {
  writer.section(view);
  writer.paragraph("lead", view.sentence);
  writer.body(...view.paragraphs);
  if (view.differences !== null) writer.table(view.differences);
  if (view.findings.length > 0) writer.heading(2, writer.text("summary.findings"));
  writer.bullets(view.findings.map(({ href, text }) => [linkTo(href, text, writer.words)]));
  if (view.more !== null) writer.paragraph("note", view.more);
  if (view.next.length > 0) writer.heading(2, writer.text("summary.next"));
  writer.steps(view.next);
  if (view.cautions.length > 0) writer.heading(2, writer.text("summary.cautions"));
  writer.bullets(view.cautions, "caution");
}

async function oneBlock(writer: Writer, view: BlockView): Promise<void> {
  const named = view.name !== null || view.word !== null;
  if (named) writer.checkName(view.title, view.sign, view.word);
  writer.findingHeading(view.finding, view.id, named);
  await writer.figures(view.figures);
  writer.tables(view.tables);
  if (view.meaning.length > 0) writer.heading(3, writer.text("check.meaning"));
  writer.paragraphs(view.meaning);
  if (view.cautions.length > 0) writer.heading(3, writer.text("summary.cautions"));
  writer.paragraphs(view.cautions);
  writeMethod(writer, view.method, view.citations);
}

function methods(writer: Writer, view: ComparisonView["methods"]): void {
  writer.section(view);
  writer.heading(2, writer.text("page.compare.how"));
  writer.body(...view.paragraphs);
  writer.heading(2, writer.text("page.compare.data"));
  writer.tables(view.tables);
  writeSources(writer, view.sources, view.legend);
}
