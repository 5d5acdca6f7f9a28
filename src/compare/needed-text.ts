/** Figures of single teams that are followed from survey to survey; those of all other groups are not compared. */
export const followedFigures = "team-difference-";

/**
 * What no comparison needs and most of a results.json is, by the blanks before its key: parts of the whole file at 1, of
 * the consequences at 2, of a check or an estimate at 3, of an estimate's cells at 4 and 6, of a group at 5.
 */
const notNeeded: ReadonlyMap<number, ReadonlySet<string>> = new Map([
  [1, new Set(["sources", "story", "groups"])],
  [2, new Set(["charts", "tables", "tippingPoints"])],
  [3, new Set(["charts", "tables", "subgroups", "meaning", "causes", "actions", "method", "sources"])],
  [4, new Set(["classification"])],
  [5, new Set(["quantities"])],
  [6, new Set(["classification"])],
]);

const opened =
  /\n( {1,6})"(groups|charts|tables|subgroups|meaning|causes|actions|method|sources|story|tippingPoints|quantities|classification)": ([[{])\n/g;

/**
 * The text of a results.json with the parts emptied that no comparison needs, so that they need not be parsed. They are
 * known by their indentation, one blank a level as this program writes it: a line break stands in no JSON text, so a line
 * that closes a part at the indentation of its key is the end of that part. A file written otherwise comes back whole.
 */
export function withoutBulk(text: string): string {
  const kept: string[] = [];
  let from = 0;
  opened.lastIndex = 0;
  for (let found = opened.exec(text); found !== null; found = opened.exec(text)) {
    const [all, blanks = "", key = "", bracket] = found;
    const inside = found.index + all.length - 1;
    // The line break that ends this line may begin the next part.
    opened.lastIndex = inside;
    if (notNeeded.get(blanks.length)?.has(key) !== true) continue;
    const close = text.indexOf(`\n${blanks}${bracket === "[" ? "]" : "}"}`, inside);
    if (close < 0) break;
    opened.lastIndex = close;
    if (key === "quantities" && text.slice(inside, close).includes(`"${followedFigures}`)) continue;
    kept.push(text.slice(from, inside));
    from = close + 1 + blanks.length;
  }
  kept.push(text.slice(from));
  return kept.join("");
}
