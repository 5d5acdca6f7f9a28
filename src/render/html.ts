import Handlebars from "handlebars";
import type { Results } from "../results/schema.js";
import { Drawing } from "./charts/draw.js";
import { loadTemplate } from "./load-template.js";
import { OwnMarkup } from "./markup.js";
import type { PageFolder } from "./page-parts.js";
import { type PageView, pageView } from "./view/page.js";
import type { Words } from "./words.js";

/** Where a drawing goes that is not finished yet. Nothing that comes from data can look like it: there `<` is escaped. */
const placeOf = (drawing: number): string => `<!--drawing ${drawing}-->`;

/** Lets markup of our own through; anything else is an error of ours, never printed unescaped. */
function inserted(value: unknown): Handlebars.SafeString {
  if (value instanceof OwnMarkup) return new Handlebars.SafeString(value.text);
  throw new TypeError("Only markup of the project's own may be inserted as it is.");
}

/** Keeps a place for what is still being drawn, and adds that to `drawings`. */
function placeKeeper(drawings: Promise<OwnMarkup>[]): (drawing: unknown, figure: unknown) => Handlebars.SafeString {
  return (drawing, figure) => {
    if (!(drawing instanceof Drawing))
      throw new TypeError("Only a drawing of the project's own has a place kept for it.");
    return new Handlebars.SafeString(placeOf(drawings.push(drawing.inFigure(String(figure))) - 1));
  };
}

/** A drawing of one kind of page, its template loaded at the first call. */
export function pageDrawer<View>(folder: PageFolder): (view: View, words: Words) => Promise<string> {
  let template: Handlebars.TemplateDelegate<View> | undefined;
  return async (view, words) => {
    template ??= loadTemplate<View>(folder);
    const drawings: Promise<OwnMarkup>[] = [];
    const t = (id: string): string => words.text({ id, values: {} });
    const helpers = { t, own: inserted, drawn: placeKeeper(drawings) };
    const page = template(view, { helpers, allowProtoPropertiesByDefault: false });
    const drawn = await Promise.all(drawings);
    return page.replace(/<!--drawing (\d+)-->/g, (_, at: string) => drawn[Number(at)]?.text ?? "");
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
