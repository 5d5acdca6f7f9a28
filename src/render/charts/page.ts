/** Height that is left for a picture on a page below the headings of its section, px. */
const roomOnPage = 740;

/** How many rows of frames of this height a picture may have, so that it fits a page. */
export const rowsOnPage = (rowHeight: number): number => Math.max(1, Math.floor((roomOnPage - 40) / rowHeight));
