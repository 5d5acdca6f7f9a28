import { inflateRawSync } from "node:zlib";

/** The files of a zip archive that are XML, by name. */
export function xmlIn(zip: Buffer): Map<string, string> {
  const found = new Map<string, string>();
  for (let from = zip.readUInt32LE(zip.lastIndexOf("PK\u0005\u0006") + 16); zip.readUInt32LE(from) === 0x02014b50; ) {
    const [name = 0, extra = 0, comment = 0] = [28, 30, 32].map((field) => zip.readUInt16LE(from + field));
    const path = zip.toString("utf8", from + 46, from + 46 + name);
    const local = zip.readUInt32LE(from + 42);
    const start = local + 30 + zip.readUInt16LE(local + 26) + zip.readUInt16LE(local + 28);
    const packed = zip.subarray(start, start + zip.readUInt32LE(from + 20));
    const plain = zip.readUInt16LE(from + 10) === 0 ? packed : inflateRawSync(packed);
    if (/\.(?:xml|rels)$/.test(path)) found.set(path, plain.toString("utf8"));
    from += 46 + name + extra + comment;
  }
  return found;
}
