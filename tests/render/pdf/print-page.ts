import { type PrintJob, type PrintOptions, printPdfs } from "../../../src/render/pdf/print.js";

/** Prints one page that is there. */
export async function printPage(html: string, options: PrintOptions & Pick<PrintJob, "madeOn">): Promise<Uint8Array> {
  const [pdf] = await printPdfs({ pages: [html], madeOn: options.madeOn }, options);
  if (pdf === undefined) throw new Error("nothing was printed");
  return pdf;
}
