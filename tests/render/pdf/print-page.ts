import { type PrintJob, type PrintOptions, printPdfs } from "../../../src/render/pdf/print.js";

type Options = PrintOptions & Pick<PrintJob, "madeOn">;

/** Prints pages that are there, with one browser for all. */
export const printPages = (pages: readonly string[], options: Options): Promise<Uint8Array[]> =>
  printPdfs({ pages, madeOn: options.madeOn }, options);

/** Prints one page that is there. */
export async function printPage(html: string, options: Options): Promise<Uint8Array> {
  const [pdf] = await printPages([html], options);
  if (pdf === undefined) throw new Error("nothing was printed");
  return pdf;
}
