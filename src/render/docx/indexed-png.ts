import { crc32, deflateSync } from "node:zlib";

/** Colours a palette has room for. */
const mostColours = 256;
const signature = Uint8Array.of(0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a);
/** Kind of pixels: one byte each, a place in the palette (PNG specification, third edition, 11.2.1). */
const indexed = 3;

interface Palette {
  /** Red, green and blue of each colour, in turn. */
  readonly colours: Uint8Array;
  /** Place of each pixel in the palette. */
  readonly places: Uint8Array;
}

/** Each pixel's colour in a palette; colours that differ least become one until they fit. */
function paletteOf(pixels: Uint8Array): Palette {
  for (let dropped = 0; ; dropped += 1) {
    const made = paletteWithout(dropped, pixels);
    if (made !== null) return made;
  }
}

/** The palette with the lowest bits of every colour left out of account; null where that still leaves too many. */
function paletteWithout(dropped: number, pixels: Uint8Array): Palette | null {
  const mask = (0xff << dropped) & 0xff;
  const known = new Map<number, number>();
  const colours: number[] = [];
  const places = new Uint8Array(pixels.length / 4);
  let before = -1;
  let place = 0;
  for (let at = 0; at < places.length; at += 1) {
    const red = pixels[4 * at] ?? 0;
    const green = pixels[4 * at + 1] ?? 0;
    const blue = pixels[4 * at + 2] ?? 0;
    const key = ((red & mask) << 16) | ((green & mask) << 8) | (blue & mask);
    // Most pixels are like the one before.
    if (key !== before) {
      const found = known.get(key) ?? known.size;
      if (found === mostColours) return null;
      if (found === known.size) {
        known.set(key, found);
        colours.push(red, green, blue);
      }
      before = key;
      place = found;
    }
    places[at] = place;
  }
  return { colours: Uint8Array.from(colours), places };
}

function chunk(kind: string, data: Uint8Array): Buffer {
  const body = Buffer.concat([Buffer.from(kind, "latin1"), data]);
  const framed = Buffer.alloc(body.length + 8);
  framed.writeUInt32BE(data.length, 0);
  body.copy(framed, 4);
  framed.writeUInt32BE(crc32(body), body.length + 4);
  return framed;
}

/**
 * An opaque picture as PNG with a palette: flat drawings have few colours, and take a third of the room that full colour
 * does.
 *
 * @param pixels red, green, blue and opacity of each pixel, row by row; the opacity is left out of account
 * @param width pixels of a row
 */
export function indexedPng(pixels: Uint8Array, width: number): Uint8Array {
  const { colours, places } = paletteOf(pixels);
  const height = places.length / width;
  const rows = Buffer.alloc((width + 1) * height);
  for (let row = 0; row < height; row += 1)
    rows.set(places.subarray(row * width, (row + 1) * width), row * (width + 1) + 1);
  const header = Buffer.alloc(13);
  header.writeUInt32BE(width, 0);
  header.writeUInt32BE(height, 4);
  header.set([8, indexed, 0, 0, 0], 8);
  return Buffer.concat([
    signature,
    chunk("IHDR", header),
    chunk("PLTE", colours),
    chunk("IDAT", deflateSync(rows, { level: 9 })),
    chunk("IEND", new Uint8Array()),
  ]);
}
