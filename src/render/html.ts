import Handlebars from "handlebars";
import type { Results } from "../results/schema.js";
import { OwnMarkup } from "./markup.js";
import { templateNames, templateText } from "./templates.js";
import { type PageView, pageView } from "./view/page.js";
import type { Words } from "./words.js";

type Template = Handlebars.TemplateDelegate<PageView>;

const compileOptions = {
  strict: true,
  knownHelpersOnly: true,
  knownHelpers: { t: true, own: true },
  preventIndent: true,
};

/** The page's template with its parts, all known beforehand: no part is ever chosen by data. */
function loadTemplate(): Template {
  const handlebars = Handlebars.create();
  for (const file of templateNames("report", ".hbs")) {
    const name = file.replace(/\.hbs$/, "");
    if (name !== "page")
      handlebars.registerPartial(name, handlebars.compile(templateText(`report/${file}`), compileOptions));
  }
  return handlebars.compile<PageView>(templateText("report/page.hbs"), compileOptions);
}
let template: Template | undefined;

/** Lets markup of our own through; anything else is an error of ours, never printed unescaped. */
function own(value: unknown): Handlebars.SafeString {
  if (!(value instanceof OwnMarkup)) throw new TypeError("Only markup of the project's own may be inserted as it is.");
  return new Handlebars.SafeString(value.text);
}

/**
 * The report as one self-contained page: for the screen, and to be printed as PDF. Needs no script and no network. The same
 * results and words give the same bytes.
 */
export async function renderHtml(results: Results, words: Words): Promise<string> {
  template ??= loadTemplate();
  const view = await pageView(results, words);
  const t = (id: string): string => words.text({ id, values: {} });
  return template(view, {
    helpers: { t, own },
    allowProtoPropertiesByDefault: false,
  });
}
