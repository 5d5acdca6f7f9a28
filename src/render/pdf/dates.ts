const dateInPdf = /\/(CreationDate|ModDate) \(D:(\d{14})(Z|[+-]\d\d'\d\d'?)?\)/g;

/**
 * The same PDF with the day it carries in place of the moment it was printed, so that the same report gives the same
 * bytes. A date is `D:YYYYMMDDHHmmSS` and the offset from UTC (ISO 32000-1:2008, 7.9.4), written by the browser in
 * the open; the new one is as long, so that no offset in the file moves. `day` is an ISO day, YYYY-MM-DD.
 * Throws when the PDF has no such dates.
 */
export function setPdfDates(pdf: Uint8Array, day: string): Uint8Array {
  if (!/^\d{4}-\d{2}-\d{2}$/.test(day)) throw new Error(`'${day}' is not a day such as 2031-05-09`);
  const digits = `${day.replaceAll("-", "")}000000`;
  const bytes = Uint8Array.from(pdf);
  let count = 0;
  for (const match of asText(pdf).matchAll(dateInPdf)) {
    const offset = (match[3] ?? "").replace(/[+-]\d\d'\d\d/, "+00'00");
    bytes.set(Buffer.from(`/${match[1]} (D:${digits}${offset})`, "latin1"), match.index);
    count += 1;
  }
  if (count === 0) throw new Error("the PDF carries no dates");
  return bytes;
}

/** One character a byte, so that places in the text are places in the file. */
function asText(pdf: Uint8Array): string {
  return Buffer.from(pdf.buffer, pdf.byteOffset, pdf.byteLength).toString("latin1");
}
