import { crc32, deflateRawSync } from "node:zlib";

export interface ZipEntry {
  readonly name: string;
  readonly content: string | Uint8Array;
  /** Uncompressed size that the archive declares, where it is to lie. */
  readonly declaredSize?: number;
  /** Marks the entry as encrypted. */
  readonly encrypted?: boolean;
  /** Checksum written in place of the right one. */
  readonly crc?: number;
}

interface Packed {
  readonly name: Buffer;
  readonly data: Buffer;
  readonly size: number;
  readonly sum: number;
  readonly flags: number;
}

function pack({ name, content, declaredSize, encrypted, crc }: ZipEntry): Packed {
  const raw = Buffer.from(content);
  return {
    name: Buffer.from(name, "utf8"),
    data: deflateRawSync(raw),
    size: declaredSize ?? raw.length,
    sum: crc ?? crc32(raw),
    flags: 0x0800 | (encrypted === true ? 1 : 0),
  };
}

/** Fields that the local header and the central directory share, from 'version needed' to 'extra length'. */
function commonFields({ name, data, size, sum, flags }: Packed): Buffer {
  const fields = Buffer.alloc(26);
  fields.writeUInt16LE(20, 0);
  fields.writeUInt16LE(flags, 2);
  fields.writeUInt16LE(8, 4);
  // 1980-01-01, the first day the format knows: the same content gives the same bytes.
  fields.writeUInt16LE(0x0021, 8);
  fields.writeUInt32LE(sum, 10);
  fields.writeUInt32LE(data.length, 14);
  fields.writeUInt32LE(size, 18);
  fields.writeUInt16LE(name.length, 22);
  return fields;
}

/** A zip archive (PKWARE APPNOTE 6.3, sections 4.3.7, 4.3.12 and 4.3.16), written by hand. */
export function zipOf(entries: readonly ZipEntry[]): Buffer {
  const local: Buffer[] = [];
  const central: Buffer[] = [];
  let offset = 0;
  for (const entry of entries.map(pack)) {
    const common = commonFields(entry);
    const header = Buffer.concat([Buffer.from("PK\x03\x04", "latin1"), common, entry.name, entry.data]);
    const rest = Buffer.alloc(14);
    rest.writeUInt32LE(offset, 10);
    central.push(Buffer.from("PK\x01\x02\x14\x00", "latin1"), common, rest, entry.name);
    local.push(header);
    offset += header.length;
  }
  const directory = Buffer.concat(central);
  const end = Buffer.alloc(22);
  end.write("PK\x05\x06", 0, "latin1");
  end.writeUInt16LE(entries.length, 8);
  end.writeUInt16LE(entries.length, 10);
  end.writeUInt32LE(directory.length, 12);
  end.writeUInt32LE(offset, 16);
  return Buffer.concat([...local, directory, end]);
}
