import type { CheckView } from "../view/check.js";
import type { ConsequenceView } from "../view/consequence.js";
import type { PageView } from "../view/page.js";
import type { SectionView } from "../view/section.js";
import type { SummaryView } from "../view/summary.js";
import { linkTo, runsOf } from "./inline.js";
import { withSign } from "./sign-letters.js";
import { writeCitations, writeMethod, writeSources } from "./sources.js";
import type { Writer } from "./writer.js";

/** The sections of a report in the order of the page. What the page folds away stands in the files beside the report. */
export async function writeReportBody(writer: Writer, view: PageView): Promise<void> {
  await summary(writer, view.summary);
  for (const section of view.sections) await checks(writer, section);
  await prevalence(writer, view.prevalence);
  if (view.consequence !== null) await consequence(writer, view.consequence);
  followUp(writer, view.followUp);
  methods(writer, view.methods);
}

async function summary(writer: Writer, view: SummaryView): Promise<void> {
  const { words } = writer;
  writer.section(view);
  writer.paragraph("lead", view.sentence);
  writer.body(...view.paragraphs);
  if (view.figure !== null) await writer.figure(view.figure);
  if (view.findings.length > 0) {
    writer.heading(2, writer.text("summary.findings"));
    for (const { sign, word, href, text, consequence } of view.findings) {
      const reading = runsOf(withSign(sign, word, words), words, { bold: true });
      writer.finding(reading, linkTo(href, text, words), consequence);
    }
    if (view.more !== null) writer.paragraph("note", view.more);
  }
  writer.heading(2, writer.text("summary.next"));
  writer.steps(view.next);
  if (view.moreSteps !== null) writer.paragraph("note", view.moreSteps);
  writer.heading(2, writer.text("summary.cautions"));
  writer.bullets(view.cautions, "caution");
}

async function checks(writer: Writer, view: SectionView): Promise<void> {
  writer.section(view);
  if (view.overview.length === 0) writer.body(writer.text("section.empty"));
  writer.overview(view.overview);
  if (view.inFiles !== null) writer.paragraph("note", view.inFiles);
  writer.tables(view.tables);
  for (const check of view.checks) await oneCheck(writer, check);
}

async function oneCheck(writer: Writer, view: CheckView): Promise<void> {
  writer.checkName(view.title, view.sign, view.readingWord);
  writer.findingHeading(view.finding, view.id, true);
  await writer.figures(view.figures);
  writer.tables(view.tables);
  if (view.meaning.length > 0) writer.heading(3, writer.text("check.meaning"));
  writer.paragraphs(view.meaning);
  if (view.consequence !== null) writer.body(view.consequence);
  if (view.causes.length > 0) writer.heading(3, writer.text("check.causes"));
  writer.bullets(view.causes);
  if (view.actions.length > 0) writer.heading(3, writer.text("check.actions"));
  writer.bullets(view.actions);
  writeMethod(writer, view.method, view.citations);
}

async function prevalence(writer: Writer, view: PageView["prevalence"]): Promise<void> {
  writer.section(view);
  if (view.inFiles !== null) writer.paragraph("note", view.inFiles);
  if (view.families.length === 0) writer.body(writer.text("prevalence.finding.none"));
  for (const family of view.families) {
    if (family.name !== null) writer.checkName(family.name, null, null);
    writer.findingHeading(family.finding, family.id, family.name !== null);
    writer.body(...family.reasons);
    writer.tables(family.tables);
    await writer.figures(family.figures);
    writeCitations(writer, family.citations);
  }
  if (view.families.length === 0) return;
  writer.heading(2, writer.text("prevalence.rules"));
  if (view.exclusions === null) writer.body(writer.text("prevalence.rules.none"));
  else writer.table(view.exclusions);
}

async function consequence(writer: Writer, view: ConsequenceView): Promise<void> {
  writer.section(view);
  writer.body(...view.paragraphs);
  await writer.figures(view.figures);
  writer.tables(view.tables);
  if (view.method.length === 0) return;
  writer.heading(2, writer.text("check.method"));
  for (const paragraph of view.method) writer.paragraph("note", paragraph);
  writeCitations(writer, view.citations);
}

function followUp(writer: Writer, view: PageView["followUp"]): void {
  writer.section(view);
  if (view.table === null) writer.body(writer.text("follow-up.nothing"));
  else writer.table(view.table);
}

function methods(writer: Writer, view: PageView["methods"]): void {
  writer.section(view);
  writer.heading(2, writer.text("methods.how"));
  writer.body(...view.paragraphs);
  if (view.scores.length > 0) writer.heading(2, writer.text("methods.scores"));
  writer.bullets(view.scores);
  writer.heading(2, writer.text("methods.notes"));
  if (view.notes.length === 0) writer.body(writer.text("methods.no-notes"));
  writer.bullets(view.notes);
  writer.heading(2, writer.text("methods.data"));
  writer.tables([view.input, ...view.settings]);
  writeSources(writer, view.sources, view.legend);
}
