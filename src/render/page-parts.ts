import { templateNames, templateText } from "./templates.js";

/** How templates are compiled: a name that the view lacks is an error, and no helper but ours is there. */
export const compileOptions = {
  strict: true,
  knownHelpersOnly: true,
  knownHelpers: { t: true, own: true, drawn: true, caption: true },
  preventIndent: true,
};

/** Folders of templates/ that hold a page. */
export const pageFolders = ["report", "comparison"] as const;
export type PageFolder = (typeof pageFolders)[number];

/** The texts that make up one kind of page. The parts of the report's are there for all. */
export interface PageParts {
  readonly page: string;
  readonly parts: readonly { readonly name: string; readonly text: string }[];
}

export function pageParts(folder: PageFolder): PageParts {
  const parts = [...new Set<PageFolder>(["report", folder])].flatMap((from) =>
    templateNames(from, ".hbs")
      .map((path) => path.replace(/\.hbs$/, ""))
      .filter((file) => file !== "page")
      .map((file) => ({
        name: from === "report" ? file : `${from}/${file}`,
        text: templateText(`${from}/${file}.hbs`),
      })),
  );
  return { page: templateText(`${folder}/page.hbs`), parts };
}
