import type { INumberingOptions } from "docx";
import { AlignmentType, BorderStyle, type IParagraphStyleOptions, type IStylesOptions, LevelFormat } from "docx";
import { message } from "../../results/message.js";
import { theme } from "../charts/theme.js";
import type { Words } from "../words.js";

/** Faces of the text: the one most word processors have, or know the twin of that is named beside it. None is embedded. */
export const faces = { latin: "Calibri", instead: "Carlito", complex: "Arial" } as const;
const font = { ascii: faces.latin, hAnsi: faces.latin, eastAsia: faces.latin, cs: faces.complex };

const colour = (name: "ink" | "quiet" | "line" | "blue"): string => theme.palette[name].slice(1);

/** The language as word processors name it: with the region whose rules they hold for it. */
const regions: Readonly<Record<string, string>> = {
  en: "en-GB",
  xx: "en-GB",
  fr: "fr-FR",
  es: "es-ES",
  pt: "pt-PT",
  ar: "ar-SA",
};
export const languageTag = (words: Words): string => regions[words.language] ?? words.language;

/** Sizes in half points, distances in twentieths of a point. */
interface Look {
  readonly size?: number;
  readonly bold?: boolean;
  readonly italics?: boolean;
  readonly colour?: "ink" | "quiet" | "blue";
  readonly before?: number;
  readonly after?: number;
  readonly line?: number;
  readonly keepNext?: boolean;
  readonly keepLines?: boolean;
  readonly outline?: boolean;
}

/** Styles that word processors know under these ids and names, and show in the user's language. */
const builtIn: Readonly<Record<string, Look & { readonly name: string; readonly basedOn?: string }>> = {
  BodyText: { name: "Body Text", after: 120, line: 276 },
  Subtitle: { name: "Subtitle", size: 24, colour: "quiet", after: 60 },
  Caption: { name: "caption", size: 20, bold: true, before: 200, after: 80, keepNext: true, keepLines: true },
  ListBullet: { name: "List Bullet", basedOn: "BodyText", after: 80, line: 264 },
  ListNumber: { name: "List Number", basedOn: "BodyText", after: 80, line: 264 },
  TOCHeading: { name: "TOC Heading", size: 24, bold: true, before: 240, after: 80, keepNext: true },
  TOC1: { name: "toc 1", after: 40 },
  Header: { name: "header", size: 17, colour: "quiet" },
  Footer: { name: "footer", size: 17, colour: "quiet" },
};

/** Styles of our own, named in the words of the document. */
const own: Readonly<Record<string, Look>> = {
  "check-name": { size: 19, bold: true, colour: "blue", before: 360, after: 0, keepNext: true },
  facts: { size: 19, colour: "quiet", after: 0 },
  invented: { size: 20, bold: true, before: 160, after: 160 },
  lead: { size: 26, after: 160, line: 300 },
  figure: { after: 120, keepLines: true },
  note: { size: 18, colour: "quiet", before: 60, after: 80 },
  caution: { size: 20, after: 80, line: 264, keepLines: true },
  "table-head": { size: 18, bold: true, before: 40, after: 40, keepNext: true },
  "table-text": { size: 18, before: 30, after: 30 },
  "table-group": { size: 18, bold: true, before: 80, after: 30, keepNext: true },
};

/** The id of a style of our own: 'table-head' is TableHead. */
export const styleId = (name: string): string =>
  name.replace(/(^|-)([a-z])/g, (_, __: string, letter: string) => letter.toUpperCase());

const parts = (look: Look, rightToLeft: boolean): Pick<IParagraphStyleOptions, "run" | "paragraph"> => ({
  run: {
    font,
    ...(look.size === undefined ? {} : { size: look.size }),
    ...(look.bold === undefined ? {} : { bold: look.bold }),
    ...(look.italics === undefined ? {} : { italics: look.italics }),
    ...(look.colour === undefined ? {} : { color: colour(look.colour) }),
  },
  paragraph: {
    spacing: {
      before: look.before ?? 0,
      after: look.after ?? 0,
      ...(look.line === undefined ? {} : { line: look.line }),
    },
    ...(look.keepNext === true ? { keepNext: true } : {}),
    ...(look.keepLines === true ? { keepLines: true } : {}),
    ...(rightToLeft ? { bidirectional: true } : {}),
  },
});

/** All styles of the document. Whatever is formatted, is formatted by one of them. */
export function stylesOf(words: Words): IStylesOptions {
  const rightToLeft = words.direction === "rtl";
  const language = languageTag(words);
  const heading = (look: Look) => parts({ keepNext: true, keepLines: true, colour: "ink", ...look }, rightToLeft);
  const rule = { style: BorderStyle.SINGLE, size: 8, color: colour("ink"), space: 4 };
  const section = heading({ size: 32, bold: true, before: 480, after: 160 });
  return {
    default: {
      document: {
        run: {
          font,
          size: 21,
          color: colour("ink"),
          language: rightToLeft ? { value: "en-GB", bidirectional: language } : { value: language },
        },
      },
      title: { ...heading({ size: 48, bold: true, before: 60, after: 100 }), quickFormat: true },
      heading1: { ...section, paragraph: { ...section.paragraph, border: { top: rule } } },
      heading2: heading({ size: 25, bold: true, before: 280, after: 120 }),
      heading3: heading({ size: 21, bold: true, colour: "quiet", before: 200, after: 60 }),
      hyperlink: { run: { color: colour("blue"), underline: {} } },
    },
    paragraphStyles: [
      ...Object.entries(builtIn).map(([id, { name, basedOn = "Normal", ...look }]) => ({
        ...parts(look, rightToLeft),
        id,
        name,
        basedOn,
        quickFormat: true,
      })),
      ...Object.entries(own).map(([name, look]) => ({
        ...parts(look, rightToLeft),
        id: styleId(name),
        name: words.text(message(`docx.style.${name}`)),
        basedOn: "Normal",
        quickFormat: true,
      })),
    ],
  };
}

/** Lists: with bullets, and counted. Their names hold signs that no text of a document has: the library replaces them anywhere. */
export const lists = { bullets: "\u2066bullets\u2069", steps: "\u2066steps\u2069" } as const;

export function numberingOf(): INumberingOptions {
  const level = (format: (typeof LevelFormat)[keyof typeof LevelFormat], text: string) => ({
    level: 0,
    format,
    text,
    alignment: AlignmentType.START,
    style: { paragraph: { indent: { start: 360, hanging: 360 } } },
  });
  return {
    config: [
      { reference: lists.bullets, levels: [level(LevelFormat.BULLET, "\u2022")] },
      { reference: lists.steps, levels: [level(LevelFormat.DECIMAL, "%1.")] },
    ],
  };
}
