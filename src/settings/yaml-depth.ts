/** Lists and mappings within each other that settings may have in brackets; those of this program need three. */
const mostBrackets = 50;
/** Blanks before a line, and list or key signs on one, that settings may have. */
const mostSigns = 200;

function bracketsTooDeep(text: string): boolean {
  let open = 0;
  for (const sign of text) {
    if (sign === "[" || sign === "{") open += 1;
    else if (sign === "]" || sign === "}") open = Math.max(0, open - 1);
    if (open > mostBrackets) return true;
  }
  return false;
}

function lineTooDeep(line: string): boolean {
  const indent = line.length - line.trimStart().length;
  return indent > mostSigns || line.split(/[-?:][ \t]/, mostSigns + 2).length > mostSigns;
}

/**
 * True for a YAML text that is nested deeper than any settings, as far as its signs show. A parser goes into each level by a call of its
 * own; near the end of the room for calls the engine may end the whole process instead of throwing.
 */
export function isNestedTooDeep(text: string): boolean {
  return bracketsTooDeep(text) || text.split("\n").some(lineTooDeep);
}
