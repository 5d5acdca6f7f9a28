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

/**
 * Lets markup of our own through; anything else is an error of ours, never printed unescaped. A drawing that is still
 * being made gets a place kept and is added to `drawings`.
 */
function inserter(drawings: Drawing[]): (value: unknown) => Handlebars.SafeString {
  return (value) => {
    if (value instanceof Drawing) return new Handlebars.SafeString(placeOf(drawings.push(value) - 1));
    if (value instanceof OwnMarkup) return new Handlebars.SafeString(value.text);
    throw new TypeError("Only markup of the project's own may be inserted as it is.");
  };
}

/** A drawing of one kind of page, its template loaded at the first call. */
export function pageDrawer<View>(folder: PageFolder): (view: View, words: Words) => Promise<string> {
  let template: Handlebars.TemplateDelegate<View> | undefined;
  return async (view, words) => {
    template ??= loadTemplate<View>(folder);
    const drawings: Drawing[] = [];
    const t = (id: string): string => words.text({ id, values: {} });
    const helpers = { t, own: inserter(drawings) };
    const page = template(view, { helpers, allowProtoPropertiesByDefault: false });
    const drawn = await Promise.all(drawings.map(({ markup }) => markup));
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
