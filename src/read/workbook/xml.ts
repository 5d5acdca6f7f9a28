import { Parser } from "saxen";
import { type Archive, brokenFile } from "../archive.js";

/** What is done with the parts of an XML file as they come; names are without their namespace. */
export interface XmlHooks {
  readonly open?: (name: string, attribute: (name: string) => string | undefined) => void;
  readonly close?: (name: string) => void;
  readonly text?: (text: string) => void;
}

/** Bytes handed to the parser at a time: it looks again at what an unfinished text began with. */
const stepBytes = 1 << 20;
/** Bytes without any tag after which the file is refused: no cell of a workbook is nearly as long. */
const silentBytes = 32 << 20;

/** An element's or attribute's name without the prefix of its namespace. */
function local(name: string): string {
  return name.slice(name.indexOf(":") + 1);
}

/** Feeds a parser and keeps what went wrong, in the file or in a hook. */
class Feed {
  /** What a hook threw. */
  thrown: { readonly error: unknown } | null = null;
  /** True where the XML itself is broken. */
  broken = false;
  #silent = 0;
  readonly #parser = new Parser();

  constructor(hooks: XmlHooks) {
    this.#parser.on("error", () => {
      this.broken = true;
    });
    this.#parser.on("openTag", (name, attributes, decode) =>
      this.#guard(() => {
        let all: Record<string, string> | null | undefined;
        hooks.open?.(local(name), (wanted) => {
          all ??= attributes();
          const key = Object.keys(all ?? {}).find((candidate) => local(candidate) === wanted);
          return key === undefined ? undefined : decode(String(all?.[key]));
        });
      }),
    );
    this.#parser.on("closeTag", (name) => this.#guard(() => hooks.close?.(local(name))));
    this.#parser.on("text", (text, decode) => this.#guard(() => hooks.text?.(decode(text))));
    this.#parser.on("cdata", (text) => this.#guard(() => hooks.text?.(text)));
  }

  #guard(run: () => void): void {
    this.#silent = 0;
    if (this.thrown !== null) return;
    try {
      run();
    } catch (error) {
      this.thrown = { error };
    }
  }

  /** False once nothing more is worth feeding. */
  feed(text: string): boolean {
    this.#silent += text.length;
    this.#parser.write(text);
    if (this.#silent > silentBytes) this.broken = true;
    return !this.broken && this.thrown === null;
  }

  end(): void {
    if (!this.broken && this.thrown === null) this.#parser.end();
  }
}

async function* inSteps(pieces: AsyncIterable<Buffer>): AsyncGenerator<Buffer> {
  let waiting: Buffer[] = [];
  let size = 0;
  for await (const piece of pieces) {
    waiting.push(piece);
    size += piece.length;
    if (size < stepBytes) continue;
    yield Buffer.concat(waiting);
    waiting = [];
    size = 0;
  }
  yield Buffer.concat(waiting);
}

/**
 * Reads one XML file of a workbook, piece by piece. Document type declarations are passed over, so that no entity unfolds.
 * Throws InputError where the XML is broken, and whatever a hook throws.
 */
export async function readXml(archive: Archive, path: string, hooks: XmlHooks): Promise<void> {
  const feed = new Feed(hooks);
  let decoder: InstanceType<typeof TextDecoder> | null = null;
  for await (const step of inSteps(archive.pieces(path, "xlsx"))) {
    decoder ??= new TextDecoder(step[0] === 0xff && step[1] === 0xfe ? "utf-16le" : "utf-8");
    if (!feed.feed(decoder.decode(step, { stream: true }))) break;
  }
  feed.end();
  if (feed.thrown !== null) throw feed.thrown.error;
  if (feed.broken) throw brokenFile(archive.place, "xlsx");
}
