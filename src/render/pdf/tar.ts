/** One regular file of a tar archive. */
export interface TarFile {
  /** Path inside the archive: relative, with forward slashes, without `..`. */
  readonly name: string;
  /** Permission bits, such as 0o755. */
  readonly mode: number;
  readonly content: Uint8Array;
}

const blockSize = 512;

/**
 * The regular files of a tar archive, in order. Reads the POSIX.1-1988 "ustar" form (IEEE Std 1003.1, pax, "ustar
 * Interchange Format"); folders are skipped, since a file's path names them.
 * Throws on a wrong checksum, a cut archive, a link, an extended header or a path that would leave the folder: an
 * archive with any of these is not the one this reader was written for.
 */
export function* readTar(archive: Uint8Array): Generator<TarFile> {
  for (let offset = 0; offset + blockSize <= archive.length; ) {
    const header = archive.subarray(offset, offset + blockSize);
    if (header.every((byte) => byte === 0)) return;
    assertChecksum(header);
    const name = safeName(fullName(header));
    const size = octal(header, 124, 12);
    const start = offset + blockSize;
    if (start + size > archive.length) throw new Error(`the archive ends in the middle of ${name}`);
    const kind = String.fromCharCode(header[156] ?? 0);
    if (kind === "0" || kind === "\0") {
      yield {
        name,
        mode: octal(header, 100, 8) & 0o777,
        content: archive.subarray(start, start + size),
      };
    } else if (kind !== "5") {
      throw new Error(`the archive's entry ${name} is of kind '${kind}', neither a file nor a folder`);
    }
    offset = start + Math.ceil(size / blockSize) * blockSize;
  }
  throw new Error("the archive has no end");
}

function text(header: Uint8Array, start: number, length: number): string {
  const field = header.subarray(start, start + length);
  const end = field.indexOf(0);
  return new TextDecoder().decode(end < 0 ? field : field.subarray(0, end));
}

function octal(header: Uint8Array, start: number, length: number): number {
  const digits = text(header, start, length).trim();
  if (!/^[0-7]+$/.test(digits)) throw new Error(`'${digits}' is not an octal number in an archive's header`);
  return Number.parseInt(digits, 8);
}

function fullName(header: Uint8Array): string {
  const prefix = text(header, 257, 5) === "ustar" ? text(header, 345, 155) : "";
  const name = text(header, 0, 100);
  return prefix === "" ? name : `${prefix}/${name}`;
}

function safeName(name: string): string {
  const parts = name.split("/");
  if (name === "" || name.startsWith("/") || /[\\:\0]/.test(name) || parts.includes("..")) {
    throw new Error(`the archive has an entry with the unsafe name '${name}'`);
  }
  return parts.filter((part) => part !== "" && part !== ".").join("/");
}

/** The sum of all header bytes, the checksum's own eight counted as spaces. */
function assertChecksum(header: Uint8Array): void {
  const sum = header.reduce((total, byte, index) => total + (index >= 148 && index < 156 ? 32 : byte), 0);
  if (sum !== octal(header, 148, 8)) throw new Error("a header of the archive has a wrong checksum");
}
