import Handlebars from "handlebars";
import type { Results } from "../results/schema.js";
import { Drawing, finishDrawings } from "./charts/drawing.js";
import { OwnMarkup } from "./markup.js";
import { compileOptions, type PageFolder, pageParts } from "./page-parts.js";
import { type PageView, pageView } from "./view/page.js";
import type { Words } from "./words.js";

/** Lets markup of our own through; anything else is an error of ours, never printed unescaped. */
function inserted(value: unknown): Handlebars.SafeString {
  if (value instanceof OwnMarkup) return new Handlebars.SafeString(value.text);
  throw new TypeError("Only markup of the project's own may be inserted as it is.");
}

function drawn(drawing: unknown, figure: unknown): Handlebars.SafeString {
  if (!(drawing instanceof Drawing)) throw new TypeError("Only a drawing of the project's own may be inserted.");
  return inserted(drawing.inFigure(String(figure)));
}

/** Numbers figures and tables as they come on the page. */
function captions(words: Words): (kind: unknown, title: unknown) => string {
  const counts = { figure: 0, table: 0 };
  return (kind, title) => {
    if (kind !== "figure" && kind !== "table") throw new TypeError("Only figures and tables are numbered.");
    counts[kind] += 1;
    return words.text({ id: `caption.${kind}`, values: { number: String(counts[kind]), title: String(title) } });
  };
}

/** A page's template with its parts, all known beforehand: no part is ever chosen by data. */
function loadTemplate<View>(folder: PageFolder): Handlebars.TemplateDelegate<View> {
  const handlebars = Handlebars.create();
  const { page, parts } = pageParts(folder);
  for (const { name, text } of parts) handlebars.registerPartial(name, handlebars.compile(text, compileOptions));
  return handlebars.compile<View>(page, compileOptions);
}

/** A drawing of one kind of page, its template loaded at the first call. */
export function pageDrawer<View>(folder: PageFolder): (view: View, words: Words) => Promise<string> {
  let template: Handlebars.TemplateDelegate<View> | undefined;
  return async (view, words) => {
    template ??= loadTemplate<View>(folder);
    await finishDrawings(view);
    const t = (id: string): string => words.text({ id, values: {} });
    const helpers = { t, own: inserted, drawn, caption: captions(words) };
    return template(view, { helpers, allowProtoPropertiesByDefault: false });
  };
}

const drawReport = pageDrawer<PageView>("report");

/**
 * The report as one self-contained page: for the screen, and to be printed as PDF. Needs no script and no network. The same
 * results and words give the same bytes.
 */
export async function renderHtml(results: Results, words: Words): Promise<string> {
  return drawReport(pageView(results, words), words);
}
