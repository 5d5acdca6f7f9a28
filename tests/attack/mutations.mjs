// Changes of an input: of bytes, of words, and of the files inside an archive.
import { crc32, deflateRawSync, gunzipSync, gzipSync, inflateRawSync } from "node:zlib";

/** Pseudo-random numbers from a seed (mulberry32), so that a run can be repeated. */
export function randomFrom(seed) {
  let state = seed >>> 0;
  const next = () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
  return { below: (n) => Math.floor(next() * n), of: (list) => list[Math.floor(next() * list.length)] };
}

const words = [
  ...'\0 \t \r\n \n \r , ; | " "" \' = + - @ # : ? & * ! % { } [ ] < > / \\ .. ../ ~ null true false .inf .nan'.split(
    " ",
  ),
  ..."&a *a <<: __proto__ constructor prototype toString hasOwnProperty length 0 -0 1e309 -1e309 1e-400 NaN Infinity".split(
    " ",
  ),
  ..."9007199254740993 0x10 0o17 1_000 2026-02-30 31/12/2025 12/31/25 45000 999 -99 1,5 1.5 ١٢ ۴۵ kg cm sex weight".split(
    " ",
  ),
  ..."height muac birth_date interview_date age_months oedema cluster team KEY PARENT_KEY _index _parent_index".split(
    " ",
  ),
  ..."data: columns: file: sheet: joins: clusters: ages: codes: options: missing: surveys: pairs: tiles: seed: name:".split(
    " ",
  ),
  ...'<c <row <v> <f> <si> <t> </t> t="s" r="XFD1048576" r="A1" &#0; &amp; <!DOCTYPE <![CDATA[ ]]> _x0000_ _xD800_'.split(
    " ",
  ),
  "\u202e",
  "\u2066",
  "\ufeff",
  "\ufffe",
  "\u0000",
  "\u001b[2J",
  "\ud800",
  "sep=;\n",
  "PK\u0003\u0004",
  "PAR1",
];

function spliced(bytes, from, removed, put) {
  return Buffer.concat([bytes.subarray(0, from), put, bytes.subarray(from + removed)]);
}

const steps = [
  (bytes, random) => {
    const copy = Buffer.from(bytes);
    if (copy.length > 0) copy[random.below(copy.length)] = random.below(256);
    return copy;
  },
  (bytes, random) => {
    const copy = Buffer.from(bytes);
    const at = random.below(Math.max(1, copy.length));
    if (copy.length > 0) copy[at] ^= 1 << random.below(8);
    return copy;
  },
  (bytes, random) => spliced(bytes, random.below(bytes.length + 1), 0, Buffer.from(random.of(words))),
  (bytes, random) =>
    spliced(bytes, random.below(bytes.length + 1), 1 + random.below(12), Buffer.from(random.of(words))),
  (bytes, random) => spliced(bytes, random.below(bytes.length + 1), random.below(64), Buffer.alloc(0)),
  (bytes, random) => {
    const from = random.below(bytes.length + 1);
    const piece = bytes.subarray(from, from + 1 + random.below(200));
    const times = random.below(20) === 0 ? 1 + random.below(300) : 1;
    return spliced(bytes, random.below(bytes.length + 1), 0, Buffer.concat(Array(times).fill(piece)));
  },
  (bytes, random) => bytes.subarray(0, random.below(bytes.length + 1)),
  (bytes, random, other) => {
    const from = random.below(other.length + 1);
    const piece = other.subarray(from, from + 1 + random.below(400));
    return spliced(bytes, random.below(bytes.length + 1), random.below(40), piece);
  },
  (bytes, random) => {
    // A whole line goes elsewhere.
    const lines = bytes.toString("latin1").split("\n");
    const [line] = lines.splice(random.below(lines.length), 1);
    lines.splice(random.below(lines.length + 1), 0, line ?? "");
    return Buffer.from(lines.join("\n"), "latin1");
  },
];

function mutatedBytes(bytes, other, random) {
  let changed = bytes;
  for (let i = 1 + random.below(4); i > 0; i--) changed = random.of(steps)(changed, random, other);
  return changed;
}

/** The files of a zip archive, read from its list at the end; null where it is none. */
function entriesOf(bytes) {
  const end = bytes.lastIndexOf(Buffer.from("PK\x05\x06", "latin1"));
  if (end < 0 || end + 22 > bytes.length) return null;
  const entries = [];
  let at = bytes.readUInt32LE(end + 16);
  try {
    for (let i = bytes.readUInt16LE(end + 10); i > 0; i--) {
      const [method, size] = [bytes.readUInt16LE(at + 10), bytes.readUInt32LE(at + 20)];
      const [name, extra, comment] = [28, 30, 32].map((field) => bytes.readUInt16LE(at + field));
      const local = bytes.readUInt32LE(at + 42);
      const start = local + 30 + bytes.readUInt16LE(local + 26) + bytes.readUInt16LE(local + 28);
      const packed = bytes.subarray(start, start + size);
      const content = method === 8 ? inflateRawSync(packed, { maxOutputLength: 1 << 22 }) : packed;
      entries.push({ name: bytes.toString("utf8", at + 46, at + 46 + name), content });
      at += 46 + name + extra + comment;
    }
  } catch {
    return null;
  }
  return entries;
}

function zipOf(entries) {
  const [local, central] = [[], []];
  let offset = 0;
  for (const { name, content } of entries) {
    const [path, data] = [Buffer.from(name), deflateRawSync(content, { level: 1 })];
    const fields = Buffer.alloc(26);
    fields.writeUInt16LE(20, 0);
    fields.writeUInt16LE(0x0800, 2);
    fields.writeUInt16LE(8, 4);
    fields.writeUInt32LE(crc32(content), 10);
    fields.writeUInt32LE(data.length, 14);
    fields.writeUInt32LE(content.length, 18);
    fields.writeUInt16LE(path.length, 22);
    const rest = Buffer.alloc(14);
    rest.writeUInt32LE(offset, 10);
    local.push(Buffer.from("PK\x03\x04", "latin1"), fields, path, data);
    central.push(Buffer.from("PK\x01\x02\x14\x00", "latin1"), fields, rest, path);
    offset += 30 + path.length + data.length;
  }
  const end = Buffer.alloc(22);
  end.write("PK\x05\x06", 0, "latin1");
  end.writeUInt16LE(entries.length, 8);
  end.writeUInt16LE(entries.length, 10);
  end.writeUInt32LE(Buffer.concat(central).length, 12);
  end.writeUInt32LE(offset, 16);
  return Buffer.concat([...local, ...central, end]);
}

function mutatedArchive(entries, random) {
  const changed = entries.map((entry) => ({ ...entry }));
  const chosen = random.of(changed);
  const other = random.of(changed).content;
  if (chosen === undefined) return zipOf(changed);
  if (random.below(8) === 0)
    chosen.name = mutatedBytes(Buffer.from(chosen.name), other, random).toString("utf8").slice(0, 200);
  else chosen.content = mutatedBytes(chosen.content, other, random);
  return zipOf(changed);
}

/** A changed input: an archive or a packed file mostly inside, anything else in its bytes. */
export function mutated(bytes, other, random) {
  const inside = random.below(4) > 0;
  if (inside && bytes[0] === 0x50 && bytes[1] === 0x4b) {
    const entries = entriesOf(bytes);
    if (entries !== null && entries.length > 0) return mutatedArchive(entries, random);
  }
  if (inside && bytes[0] === 0x1f && bytes[1] === 0x8b) {
    try {
      return gzipSync(mutatedBytes(gunzipSync(bytes, { maxOutputLength: 1 << 22 }), other, random), { level: 1 });
    } catch {
      // Not unpacked any more: changed as it lies.
    }
  }
  return mutatedBytes(bytes, other, random);
}
