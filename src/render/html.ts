import Handlebars from "handlebars";
import type { Results } from "../results/schema.js";
import { Drawing } from "./charts/draw.js";
import { OwnMarkup } from "./markup.js";
import { templateNames, templateText } from "./templates.js";
import { type PageView, pageView } from "./view/page.js";
import type { Words } from "./words.js";

const compileOptions = {
  strict: true,
  knownHelpersOnly: true,
  knownHelpers: { t: true, own: true },
  preventIndent: true,
};

/** Folders of templates/ that hold a page. The parts of the report's are there for all. */
type PageFolder = "report" | "comparison";

/** A page's template with its parts, all known beforehand: no part is ever chosen by data. */
function loadTemplate<View>(folder: PageFolder): Handlebars.TemplateDelegate<View> {
  const handlebars = Handlebars.create();
  const part = (from: PageFolder, file: string, name: string): void =>
    handlebars.registerPartial(name, handlebars.compile(templateText(`${from}/${file}.hbs`), compileOptions));
  for (const from of new Set<PageFolder>(["report", folder])) {
    for (const path of templateNames(from, ".hbs")) {
      const file = path.replace(/\.hbs$/, "");
      if (file !== "page") part(from, file, from === "report" ? file : `${from}/${file}`);
    }
  }
  return handlebars.compile<View>(templateText(`${folder}/page.hbs`), compileOptions);
}

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
