import { readFile } from "node:fs/promises";
import { createRequire } from "node:module";
import { brotliDecompressSync } from "node:zlib";
import type { ResvgRenderOptions } from "@resvg/resvg-wasm";
import { templateBytes } from "../templates.js";
import { indexedPng } from "./indexed-png.js";

/** Pixels for each unit of a drawing: sharp in print at the size it has in a document. */
const scale = 2;
/** One face with all alphabets: the drawing library does not set Arabic from a second face in a line that begins in another. */
const faces = ["picture-400", "picture-600"];
const family = "Tareline Picture";

async function loadRaster() {
  const { initWasm, Resvg } = await import("@resvg/resvg-wasm");
  const path = createRequire(import.meta.url).resolve("@resvg/resvg-wasm/index_bg.wasm");
  await initWasm(await readFile(path));
  const fontBuffers = faces.map(
    (face) => new Uint8Array(brotliDecompressSync(templateBytes(`style/fonts/${face}.ttf.br`))),
  );
  const options: ResvgRenderOptions = {
    background: "#ffffff",
    fitTo: { mode: "zoom", value: scale },
    font: { fontBuffers, defaultFontFamily: family, sansSerifFamily: family },
  };
  return { Resvg, options };
}
let loading: ReturnType<typeof loadRaster> | undefined;

/** A drawing as pixels, without browser or canvas: the same drawing gives the same bytes. */
export async function pngOf(svg: string): Promise<Uint8Array> {
  loading ??= loadRaster();
  const { Resvg, options } = await loading;
  const drawing = new Resvg(svg, options);
  const picture = drawing.render();
  try {
    return indexedPng(picture.pixels, picture.width);
  } finally {
    picture.free();
    drawing.free();
  }
}
