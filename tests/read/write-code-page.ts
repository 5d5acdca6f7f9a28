import type { Encoding } from "../../src/read/table.js";

/** Text in a code page, by the platform's own table of it. Throws for a sign that the code page lacks. */
export function inCodePage(codePage: Encoding, text: string): Buffer {
  const decoder = new TextDecoder(codePage);
  const byteOf = new Map(
    Array.from({ length: 256 }, (_, byte) => [decoder.decode(Uint8Array.of(byte), { stream: true }), byte] as const),
  );
  return Buffer.from(
    [...text].map((sign) => {
      const byte = byteOf.get(sign);
      if (byte === undefined) throw new Error(`${codePage} has no '${sign}'.`);
      return byte;
    }),
  );
}
