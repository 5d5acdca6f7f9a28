import Handlebars from "handlebars";
import { compileOptions, type PageFolder, pageParts } from "./page-parts.js";

/** A page's template with its parts, all known beforehand: no part is ever chosen by data. The build puts compiled ones here. */
export function loadTemplate<View>(folder: PageFolder): Handlebars.TemplateDelegate<View> {
  const handlebars = Handlebars.create();
  const { page, parts } = pageParts(folder);
  for (const { name, text } of parts) handlebars.registerPartial(name, handlebars.compile(text, compileOptions));
  return handlebars.compile<View>(page, compileOptions);
}
