const placeholder =
  /(<a\b(?=[^>]*\bclass="(?:[^"]*\s)?toc-page(?:\s[^"]*)?")[^>]*\bhref="#([^"]+)"[^>]*>)[^<]*(<\/a>)/g;

/** True when the page asks for page numbers: a link of class `toc-page`, whose text is left to the printing. */
export function wantsPageNumbers(html: string): boolean {
  return html.search(placeholder) >= 0;
}

/** Puts each target's page number into its `toc-page` link. A target without a page leaves its link as it is. */
export function withPageNumbers(html: string, pageOf: ReadonlyMap<string, number>): string {
  return html.replace(placeholder, (link: string, opening: string, id: string, closing: string) => {
    const page = pageOf.get(id);
    return page === undefined ? link : `${opening}${page}${closing}`;
  });
}
