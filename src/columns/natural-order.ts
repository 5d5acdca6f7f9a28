const pieces = /\d+|\D+/g;
const isNumber = /^\d/;

function compareDigits(a: string, b: string): number {
  const [one, other] = [a.replace(/^0+(?=\d)/, ""), b.replace(/^0+(?=\d)/, "")];
  if (one.length !== other.length) return one.length - other.length;
  return one < other ? -1 : one > other ? 1 : 0;
}

function comparePieces(a: string, b: string): number {
  if (isNumber.test(a) && isNumber.test(b)) return compareDigits(a, b);
  return a < b ? -1 : a > b ? 1 : 0;
}

function comparePieceByPiece(own: readonly string[], others: readonly string[]): number {
  for (let i = 0; i < Math.min(own.length, others.length); i++) {
    const order = comparePieces(own[i] as string, others[i] as string);
    if (order !== 0) return order;
  }
  return own.length - others.length;
}

const piecesOf = (text: string): readonly string[] => text.match(pieces) ?? [];

/**
 * The order in which people count: T2 before T10, and otherwise by the signs' numbers in Unicode, so that it is the same on
 * every machine. Never 0 for two texts that differ.
 */
export function naturalOrder(a: string, b: string): number {
  return comparePieceByPiece(piecesOf(a), piecesOf(b)) || (a < b ? -1 : a > b ? 1 : 0);
}

/** Texts in natural order, each taken to pieces once. */
export function inNaturalOrder(texts: readonly string[]): string[] {
  const parted = texts.map((text) => ({ text, pieces: piecesOf(text) }));
  parted.sort((a, b) => comparePieceByPiece(a.pieces, b.pieces) || (a.text < b.text ? -1 : 1));
  return parted.map(({ text }) => text);
}
