import { crc32 } from "node:zlib";
import { type Entry, fromBufferPromise, type ZipFile } from "yauzl";
import { type Limits, mostUnpacked } from "./limits.js";
import { InputError, inputProblem } from "./problem.js";

export function tooLarge(place: string, what: string, limit: number): InputError {
  return new InputError([inputProblem("file-too-large", place, { details: { what, limit } })]);
}

/** Refuses a packed file above the limit before anything is unpacked. */
export function refuseLarge(bytes: Uint8Array, place: string, limits: Limits): void {
  if (bytes.length > limits.packedBytes) throw tooLarge(place, "packed", limits.packedBytes);
}

/** A zip archive: what it holds, and its files' bytes one at a time. Nothing is ever written to the disk. */
export class Archive {
  /** Bytes that have come out so far: a workbook may name one part many times. */
  #unpacked = 0;

  private constructor(
    readonly place: string,
    readonly limits: Limits,
    readonly zip: ZipFile,
    /** The files inside, by their path with forward slashes. */
    readonly entries: ReadonlyMap<string, Entry>,
    /** Bytes that may come out of all of it. */
    readonly most: number,
  ) {}

  /** Opens an archive and looks at its list of files. Throws InputError where it is broken, too large or hostile. */
  static async open(bytes: Uint8Array, place: string, limits: Limits): Promise<Archive> {
    refuseLarge(bytes, place, limits);
    const buffer = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.length);
    const entries = new Map<string, Entry>();
    let declared = 0;
    try {
      const zip = await fromBufferPromise(buffer);
      if (zip.entryCount > limits.entries) throw tooLarge(place, "entries", limits.entries);
      for await (const entry of zip.eachEntry()) {
        declared += entry.uncompressedSize;
        if (declared > limits.unpackedBytes) throw tooLarge(place, "unpacked", limits.unpackedBytes);
        const most = mostUnpacked(entry.compressedSize, limits);
        if (entry.uncompressedSize > most) throw tooLarge(place, "unpacked", most);
        // Which of two files of one name is meant, nobody can tell: unpackers differ.
        if (entries.has(entry.fileName))
          throw new InputError([inputProblem("entry-twice", place, { value: entry.fileName })]);
        if (!entry.fileName.endsWith("/")) entries.set(entry.fileName, entry);
      }
      return new Archive(place, limits, zip, entries, mostUnpacked(bytes.length, limits));
    } catch (error) {
      throw archiveError(error, place, "zip");
    }
  }

  /** The bytes of one file as they come out, in pieces. `format` is what the archive is to the user. */
  async *pieces(path: string, format: "zip" | "xlsx"): AsyncGenerator<Buffer> {
    const entry = this.entries.get(path);
    if (entry === undefined) throw brokenFile(this.place, format);
    if (entry.isEncrypted()) throw new InputError([inputProblem("encrypted-file", this.place, { value: path })]);
    const { partBytes } = this.limits;
    if (format === "xlsx" && entry.uncompressedSize > partBytes) throw tooLarge(this.place, "unpacked", partBytes);
    let sum = 0;
    try {
      // The unpacker stops where more bytes come out than the entry declares.
      for await (const piece of await this.zip.openReadStreamPromise(entry)) {
        this.#unpacked += piece.length;
        if (this.#unpacked > this.most) throw tooLarge(this.place, "unpacked", this.most);
        sum = crc32(piece, sum);
        yield piece;
      }
    } catch (error) {
      throw archiveError(error, this.place, format);
    }
    // The file carries a checksum of what went in: another one means that bytes were lost or changed on the way.
    if (sum !== entry.crc32) throw brokenFile(this.place, format);
  }

  async bytesOf(path: string): Promise<Buffer> {
    const pieces: Buffer[] = [];
    for await (const piece of this.pieces(path, "zip")) pieces.push(piece);
    return Buffer.concat(pieces);
  }
}

export function brokenFile(place: string, format: string): InputError {
  return new InputError([inputProblem("broken-file", place, { details: { format } })]);
}

/** What the unpacker says, in our own terms; a fault of our own stays what it is. */
function archiveError(error: unknown, place: string, format: string): unknown {
  if (error instanceof InputError || !(error instanceof Error)) return error;
  const unsafe = /^(?:absolute path|invalid relative path|invalid characters in fileName): (.*)$/s.exec(error.message);
  if (unsafe !== null) return new InputError([inputProblem("unsafe-name", place, { value: unsafe[1] ?? "" })]);
  return brokenFile(place, format);
}
