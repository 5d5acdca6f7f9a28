import {
  BookmarkEnd,
  BookmarkStart,
  type ImageRun,
  type IParagraphOptions,
  Paragraph,
  type ParagraphChild,
  SimpleField,
  type Table,
  TextRun,
} from "docx";
import { message, type ValuesOf } from "../../results/message.js";
import type { OwnMarkup } from "../markup.js";
import type { ParagraphView } from "../view/check.js";
import type { FigureView } from "../view/figure.js";
import type { Heading } from "../view/heading.js";
import type { TableView } from "../view/table.js";
import type { Words } from "../words.js";
import type { ContentsEntry } from "./contents.js";
import { bookmarkName, directionOf, filled, linkTo, placeOf, runsOf } from "./inline.js";
import { alternativeOf, pictureOf, type Rasters } from "./picture.js";
import { withSign } from "./sign-letters.js";
import { lists, styleId } from "./styles.js";
import { tableOf } from "./table.js";

/** What stands in a paragraph: text, or parts already made. */
export type Content = string | readonly ParagraphChild[];

const levels = { 1: "Heading1", 2: "Heading2", 3: "Heading3" } as const;
/** A finding stands close under the name of its check. */
const underName: IParagraphOptions = { spacing: { before: 20, after: 120 } };

/** Takes the parts of a document one after the other, and counts its figures, tables, lists and bookmarks. */
export class Writer {
  readonly children: (Paragraph | Table)[] = [];
  /** The sections written so far, for the list of contents. */
  readonly sections: ContentsEntry[] = [];
  #figures = 0;
  #tables = 0;
  #pictures = 0;
  #lists = 0;
  #bookmarks = 0;
  readonly #rasters: Rasters = new Map();

  constructor(readonly words: Words) {}

  text<Id extends string>(id: Id, ...values: ValuesOf<Id>): string {
    return this.words.text(message(id, ...values));
  }

  /** A paragraph in a style known by its id, or of our own by its name. */
  paragraph(style: string, content: Content, options: IParagraphOptions = {}): void {
    const children = typeof content === "string" ? runsOf(content, this.words) : content;
    this.children.push(new Paragraph({ ...directionOf(this.words), ...options, style: styleId(style), children }));
  }

  body(...texts: readonly string[]): void {
    for (const text of texts) this.paragraph("BodyText", text);
  }

  /** A heading, to which links lead by the anchor it has on the page. */
  heading(level: keyof typeof levels, content: Content, anchor?: string, options: IParagraphOptions = {}): void {
    const children = typeof content === "string" ? runsOf(content, this.words) : content;
    this.paragraph(levels[level], anchor === undefined ? children : this.marked(anchor, children), options);
  }

  /** A finding, under the name of its check where that stands over it. */
  findingHeading(finding: string, anchor: string, named: boolean): void {
    this.heading(2, finding, anchor, named ? underName : {});
  }

  /** A section's number, name and sentence as its heading. */
  section({ id, number, name, joint, heading }: Heading): void {
    const named = name === null ? "" : `${name}${joint}`;
    const text = `${number}\u2002${named}${heading}`;
    this.sections.push({ id, text });
    this.heading(1, runsOf(text, this.words), id);
  }

  marked(anchor: string, children: readonly ParagraphChild[]): ParagraphChild[] {
    this.#bookmarks += 1;
    const start = new BookmarkStart(bookmarkName(anchor), this.#bookmarks);
    return [start, ...children, new BookmarkEnd(this.#bookmarks)] as ParagraphChild[];
  }

  bullets(items: readonly Content[], style = "ListBullet"): void {
    for (const item of items) this.paragraph(style, item, { numbering: { reference: lists.bullets, level: 0 } });
  }

  /** A list that counts its items from 1. */
  steps(items: readonly Content[]): void {
    this.#lists += 1;
    const numbering = { reference: lists.steps, level: 0, instance: this.#lists };
    for (const item of items) this.paragraph("ListNumber", item, { numbering });
  }

  /** Paragraphs, where several of one kind are a list. */
  paragraphs(views: readonly ParagraphView[]): void {
    for (const { list, texts } of views) {
      if (list) this.bullets(texts);
      else this.body(...texts);
    }
  }

  #caption(kind: "figure" | "table", title: string, at: number, anchor: string): void {
    // The field counts anew where an editor takes a figure out; its name is what word processors count by.
    const field = new SimpleField(` SEQ ${kind === "figure" ? "Figure" : "Table"} \\* ARABIC `, String(at));
    const text = this.text(`caption.${kind}`, { number: placeOf(0), title });
    this.paragraph("Caption", this.marked(anchor, filled(text, [[field]], this.words)));
  }

  table(view: TableView): void {
    if (view.elsewhere !== null) {
      this.paragraph("note", view.elsewhere);
      return;
    }
    this.#tables += 1;
    this.#caption("table", view.caption, this.#tables, view.id);
    this.children.push(tableOf(view, this.words));
    // A paragraph after it keeps two tables apart.
    if (view.notes.length === 0) this.paragraph("note", "");
    for (const note of view.notes) this.paragraph("note", note);
  }

  async figure(view: FigureView): Promise<void> {
    this.#figures += 1;
    this.#caption("figure", view.title, this.#figures, view.id);
    await view.drawing.finished();
    const drawings = view.drawing.pictures;
    const pieces = drawings.length > 1 && view.kind !== "prevalence-bands";
    for (const [at, drawing] of drawings.entries()) {
      const last = at === drawings.length - 1;
      const picture = await this.#picture(drawing, alternativeOf(drawing));
      this.paragraph("figure", [picture], {
        keepNext: !last && !pieces,
      });
    }
  }

  async #picture(drawing: OwnMarkup, alternative: string): Promise<ImageRun> {
    this.#pictures += 1;
    return pictureOf(drawing, alternative, this.#pictures, this.#rasters);
  }

  /** Tables that a figure of the page stands for, one after the other. */
  tables(views: readonly TableView[]): void {
    for (const view of views) this.table(view);
  }

  async figures(views: readonly FigureView[]): Promise<void> {
    for (const view of views) await this.figure(view);
  }

  /** A finding under its reading: the finding leads to where it is told in full. */
  finding(reading: readonly ParagraphChild[], link: ParagraphChild, consequence: string | null): void {
    const text = this.text("docx.finding", { reading: placeOf(0), finding: placeOf(1) });
    const children = filled(text, [reading, [link]], this.words);
    const after = consequence === null ? [] : [new TextRun({ break: 1 }), ...runsOf(consequence, this.words)];
    this.bullets([[...children, ...after]]);
  }

  /** The checks of a section, each with how it reads and a link to it. */
  overview(
    lines: readonly {
      readonly href: string;
      readonly title: string;
      readonly sign: OwnMarkup | null;
      readonly word: string | null;
    }[],
  ): void {
    this.bullets(
      lines.map(({ href, title, sign, word }) => {
        const link = linkTo(href, title, this.words);
        if (word === null) return [link];
        const text = this.text("docx.check", { title: placeOf(0), reading: withSign(sign, word, this.words) });
        return filled(text, [[link]], this.words);
      }),
    );
  }

  /** The name of a check and how it reads, over its finding. */
  checkName(title: string, sign: OwnMarkup | null, word: string | null): void {
    const read = word === null ? title : this.text("docx.check", { title, reading: withSign(sign, word, this.words) });
    this.paragraph("check-name", read);
  }
}
