/** Lists and mappings are taken apart down to this level; below it they are small. */
const apartLevels = 4;

function* piecesOf(value: unknown, level = 0): Generator<string> {
  if (level === apartLevels || typeof value !== "object" || value === null) {
    yield JSON.stringify(value, null, 1).replaceAll("\n", `\n${" ".repeat(level)}`);
    return;
  }
  const isList = Array.isArray(value);
  const named: [string, unknown][] = isList
    ? value.map((each: unknown) => ["", each ?? null])
    : Object.entries(value).flatMap(([key, each]) => (each === undefined ? [] : [[`${JSON.stringify(key)}: `, each]]));
  const [open, close] = isList ? "[]" : "{}";
  if (named.length === 0) {
    yield `${open}${close}`;
    return;
  }
  let before = open;
  for (const [name, each] of named) {
    yield `${before}\n${" ".repeat(level + 1)}${name}`;
    yield* piecesOf(each, level + 1);
    before = ",";
  }
  yield `\n${" ".repeat(level)}${close}`;
}

/** Letters that are given out at a time. */
const letters = 65_536;

/**
 * The lines that `JSON.stringify(value, null, 1)` gives, with a line break at the end, in pieces that are made as they are asked
 * for: that of a large comparison, whole, takes several times its length in memory.
 */
export function jsonPieces(value: unknown): Iterable<string> {
  return {
    *[Symbol.iterator]() {
      let gathered = "";
      for (const piece of piecesOf(value)) {
        gathered += piece;
        if (gathered.length < letters) continue;
        yield gathered;
        gathered = "";
      }
      yield `${gathered}\n`;
    },
  };
}
