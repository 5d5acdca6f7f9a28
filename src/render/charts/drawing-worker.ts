import { parentPort } from "node:worker_threads";
import type { Chart } from "../../results/schema.js";
import { loadWords, type Words } from "../words.js";
import { chartSvgs } from "./draw-svg.js";

/** What the worker is sent: a chart to draw in a language. */
export interface ToDraw {
  readonly id: number;
  readonly chart: Chart;
  readonly language: string;
}

/** What it sends back. */
export type Drawn =
  | { readonly id: number; readonly svgs: readonly string[] }
  | { readonly id: number; readonly failure: string };

const known = new Map<string, Words>();

function wordsOf(language: string): Words {
  const words = known.get(language) ?? loadWords(language);
  known.set(language, words);
  return words;
}

let last: Promise<unknown> = Promise.resolve();
parentPort?.on("message", ({ id, chart, language }: ToDraw) => {
  last = last.then(async () => {
    try {
      parentPort?.postMessage({ id, svgs: await chartSvgs(chart, wordsOf(language)) } satisfies Drawn);
    } catch (error) {
      parentPort?.postMessage({ id, failure: String(error) } satisfies Drawn);
    }
  });
});
