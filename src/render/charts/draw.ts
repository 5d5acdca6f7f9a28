import { existsSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { Worker } from "node:worker_threads";
import type { Chart } from "../../results/schema.js";
import type { Words } from "../words.js";
import type { Drawn, ToDraw } from "./drawing-worker.js";

type Svgs = readonly string[];

interface Waiting {
  readonly resolve: (svgs: Svgs) => void;
  readonly reject: (error: Error) => void;
}

let worker: Worker | undefined;
const waiting = new Map<number, Waiting>();

function failAll(error: Error): void {
  worker = undefined;
  for (const { reject } of waiting.values()) reject(error);
  waiting.clear();
}

/**
 * Starts a worker that draws while the rest of the program computes: to be called early. Without it, and where the sources run
 * without a build, charts are drawn in place.
 */
export function startDrawing(): void {
  const path = fileURLToPath(new URL("./drawing-worker.js", import.meta.url));
  if (worker !== undefined || !existsSync(path)) return;
  worker = new Worker(path);
  worker.on("message", (drawn: Drawn) => {
    const asked = waiting.get(drawn.id);
    waiting.delete(drawn.id);
    if ("svgs" in drawn) asked?.resolve(drawn.svgs);
    else asked?.reject(new Error(drawn.failure));
    // An idle worker keeps no program alive.
    if (waiting.size === 0) worker?.unref();
  });
  worker.on("error", failAll);
  worker.on("exit", () => failAll(new Error("The drawing worker ended early.")));
  worker.unref();
}

/** What has been asked for: a chart is asked for ahead, by the page and by the document to edit. */
const drawn = new WeakMap<Words, WeakMap<Chart, Promise<Svgs>>>();
let sent = 0;

/** The pictures of a chart as static SVG. The same chart and words give the same texts. */
export function drawChart(chart: Chart, words: Words): Promise<Svgs> {
  const own = drawn.get(words) ?? new WeakMap<Chart, Promise<Svgs>>();
  drawn.set(words, own);
  const svgs =
    own.get(chart) ?? (worker === undefined ? drawHere(chart, words) : sendTo(worker, chart, words.language));
  own.set(chart, svgs);
  // Whoever asks for the pictures is told why they cannot be drawn; nobody else needs to be.
  svgs.catch(() => {});
  return svgs;
}

const drawHere = async (chart: Chart, words: Words): Promise<Svgs> =>
  (await import("./draw-svg.js")).chartSvgs(chart, words);

function sendTo(to: Worker, chart: Chart, language: string): Promise<Svgs> {
  return new Promise((resolve, reject) => {
    sent += 1;
    waiting.set(sent, { resolve, reject });
    to.ref();
    to.postMessage({ id: sent, chart, language } satisfies ToDraw);
  });
}

/** Has charts drawn that a page will ask for later, where a worker draws them meanwhile. */
export function drawAhead(charts: readonly Chart[], words: Words): void {
  if (worker === undefined) return;
  for (const chart of charts) drawChart(chart, words);
}
