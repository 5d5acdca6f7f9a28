const nodeName = /\(node(\d{8})\)/g;

/**
 * The same PDF with the parts of its structure named 1, 2, 3 in the order of their old numbers. The browser names them by a
 * counter that runs through everything it has ever shown, which is not the same in every run. New names are as long as the
 * old ones and sort as they did (ISO 32000-1:2008, 14.7.2, IDTree; 7.9.6, name trees), so that no offset moves.
 */
export function setNodeNames(pdf: Uint8Array): Uint8Array {
  const text = Buffer.from(pdf.buffer, pdf.byteOffset, pdf.byteLength).toString("latin1");
  const places = [...text.matchAll(nodeName)].map(({ index, 1: digits = "" }) => ({ index, digits }));
  const sorted = [...new Set(places.map(({ digits }) => digits))].sort();
  const renamed = new Map(sorted.map((digits, i) => [digits, String(i + 1).padStart(8, "0")]));
  const bytes = Uint8Array.from(pdf);
  const before = "(node".length;
  for (const { index, digits } of places)
    bytes.set(Buffer.from(renamed.get(digits) ?? digits, "latin1"), index + before);
  return bytes;
}
