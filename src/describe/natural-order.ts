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

/**
 * The order in which people count: T2 before T10, and otherwise by the signs' numbers in Unicode, so that it is the same on
 * every machine. Never 0 for two texts that differ.
 */
export function naturalOrder(a: string, b: string): number {
  const [own, others] = [a.match(pieces) ?? [], b.match(pieces) ?? []];
  for (let i = 0; i < Math.min(own.length, others.length); i++) {
    const order = comparePieces(own[i] as string, others[i] as string);
    if (order !== 0) return order;
  }
  if (own.length !== others.length) return own.length - others.length;
  return a < b ? -1 : a > b ? 1 : 0;
}
