/** What a printed PDF says about its pages. */
export interface PdfPages {
  readonly count: number;
  /** For every target of a link inside the document, by its id, the page it stands on, counted from 1. */
  readonly pageOf: ReadonlyMap<string, number>;
}

/**
 * Reads the page tree and the named destinations of a PDF as Chromium writes it: every object in the open, none inside
 * a compressed object stream (ISO 32000-1:2008, 7.7.3 page tree, 12.3.2.3 named destinations). Not a general reader:
 * of another program's PDF it may find no pages, and says 0.
 */
export function readPages(pdf: Uint8Array): PdfPages {
  const file = Buffer.from(pdf.buffer, pdf.byteOffset, pdf.byteLength).toString("latin1");
  const objects = dictionaries(file);
  const root = objects.get(reference(file.slice(file.lastIndexOf("trailer")), "Root")) ?? "";
  const pages = pageNumbers(objects, reference(root, "Pages"));
  const places = new Map(pages.map((object, index) => [object, index + 1]));
  const pageOf = new Map<string, number>();
  const destinations = objects.get(reference(root, "Dests")) ?? "";
  for (const [, name, object] of destinations.matchAll(/\/([^\s/[\]<>()]+) \[(\d+) 0 R \/XYZ/g)) {
    const page = places.get(Number(object));
    if (name !== undefined && page !== undefined) pageOf.set(decodeName(name), page);
  }
  return { count: pages.length, pageOf };
}

/** Every object that is a plain dictionary, by its number. */
function dictionaries(file: string): Map<number, string> {
  const found = new Map<number, string>();
  for (const match of file.matchAll(/(?:^|\n)(\d+) 0 obj\n(<<[\s\S]*?)(?:\nendobj|>> stream\n)/g)) {
    found.set(Number(match[1]), match[2] ?? "");
  }
  return found;
}

function reference(dictionary: string, key: string): number {
  return Number(new RegExp(`/${key} (\\d+) 0 R`).exec(dictionary)?.[1] ?? Number.NaN);
}

/** Object numbers of the pages below a node, in reading order. */
function pageNumbers(objects: ReadonlyMap<number, string>, node: number, depth = 0): number[] {
  const dictionary = objects.get(node);
  // A tree deeper than this is not one that was written for a report.
  if (dictionary === undefined || depth > 32) return [];
  if (/\/Type \/Page\b/.test(dictionary)) return [node];
  const kids = /\/Kids \[([^\]]*)\]/.exec(dictionary)?.[1] ?? "";
  return [...kids.matchAll(/(\d+) 0 R/g)].flatMap(([, kid]) => pageNumbers(objects, Number(kid), depth + 1));
}

/**
 * A name may write any byte as # and two hexadecimal digits (ISO 32000-1:2008, 7.3.5); the browser's names are ids as
 * they stand in an address, percent-encoded.
 */
function decodeName(name: string): string {
  const address = name.replace(/#([0-9A-Fa-f]{2})/g, (_, code: string) =>
    String.fromCharCode(Number.parseInt(code, 16)),
  );
  try {
    return decodeURIComponent(address);
  } catch {
    return address;
  }
}
