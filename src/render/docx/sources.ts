import { message } from "../../results/message.js";
import type { CitationList, SourceView } from "../view/sources.js";
import { filled, linkTo, placeOf, runsOf } from "./inline.js";
import type { Writer } from "./writer.js";

/** What the sources of a part are, with links to the list of all. */
export function writeCitations(writer: Writer, list: CitationList | null): void {
  if (list === null) return;
  const items = list.items.map(({ short, mark }, at) =>
    message("docx.citation", { number: placeOf(at), source: short, mark }),
  );
  const numbers = list.items.map(({ href, number }) => [linkTo(href, String(number), writer.words)]);
  const marks = list.marks.map((each) => writer.text("docx.mark", { mark: each.mark, meaning: each.meaning }));
  const text = [writer.text("docx.sources", { items }), ...marks].join(" ");
  writer.paragraph("note", filled(text, numbers, writer.words));
}

/** How something was computed, and by whose word. */
export function writeMethod(writer: Writer, paragraphs: readonly string[], citations: CitationList | null): void {
  if (paragraphs.length > 0) writer.heading(3, writer.text("check.method"));
  for (const paragraph of paragraphs) writer.paragraph("note", paragraph);
  writeCitations(writer, citations);
}

/** All sources, each where the links lead. */
export function writeSources(writer: Writer, sources: readonly SourceView[], legend: CitationList["marks"]): void {
  writer.heading(2, writer.text("methods.sources"));
  writer.body(writer.text("methods.sources-intro"));
  for (const { mark, meaning } of legend) writer.paragraph("note", writer.text("docx.mark", { mark, meaning }));
  writer.steps(
    sources.map(({ id, reference, mark, status }) => {
      const said = [`${reference}${mark === "" ? "" : `\u00a0${mark}`}`, ...(status === null ? [] : [status])].join(
        " ",
      );
      return writer.marked(id, runsOf(said, writer.words));
    }),
  );
}
