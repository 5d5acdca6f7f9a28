import { parentPort } from "node:worker_threads";
import { loadWords, type Words } from "../words.js";
import { chartSvgs } from "./chart-svgs.js";
import type { Drawn, ToDraw } from "./draw-in-thread.js";
import { prepareDrawing } from "./draw-svg.js";

const known = new Map<string, Words>();

function wordsOf(language: string): Words {
  const words = known.get(language) ?? loadWords(language);
  known.set(language, words);
  return words;
}

/** A thread that draws what it is sent; it loads its libraries as soon as it starts. */
const port = parentPort;
if (port !== null) {
  void prepareDrawing().catch(() => {});
  port.on("message", async ({ id, chart, language }: ToDraw) => {
    try {
      port.postMessage({ id, svgs: await chartSvgs(chart, wordsOf(language)) } satisfies Drawn);
    } catch (error) {
      port.postMessage({ id, failure: String(error) } satisfies Drawn);
    }
  });
}
