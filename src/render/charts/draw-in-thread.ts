import { existsSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { Worker } from "node:worker_threads";
import type { Chart } from "../../results/schema.js";
import type { Words } from "../words.js";
import { chartSvgs } from "./chart-svgs.js";

/** What a drawing thread is sent. */
export interface ToDraw {
  readonly id: number;
  readonly chart: Chart;
  readonly language: string;
}

type Svgs = readonly string[];

/** What it sends back. */
export type Drawn = { readonly id: number; readonly svgs: Svgs } | { readonly id: number; readonly failure: string };

interface Waiting {
  readonly resolve: (svgs: Svgs) => void;
  readonly reject: (error: Error) => void;
}

interface Thread {
  readonly worker: Worker;
  readonly waiting: Map<number, Waiting>;
}

let thread: Thread | undefined;

function startThread(path: string): Thread {
  // The flags of the program's own start are not the thread's. What is drawn is let go at once: it needs little room.
  const options = { execArgv: [], resourceLimits: { maxYoungGenerationSizeMb: 24 } };
  const started: Thread = { worker: new Worker(path, options), waiting: new Map() };
  const failAll = (error: Error): void => {
    thread = undefined;
    for (const { reject } of started.waiting.values()) reject(error);
    started.waiting.clear();
  };
  started.worker.on("message", (drawn: Drawn) => {
    const waiting = started.waiting.get(drawn.id);
    started.waiting.delete(drawn.id);
    if ("svgs" in drawn) waiting?.resolve(drawn.svgs);
    else waiting?.reject(new Error(drawn.failure));
    // An idle thread keeps no program alive.
    if (started.waiting.size === 0) started.worker.unref();
  });
  started.worker.on("error", failAll);
  started.worker.on("exit", () => failAll(new Error("The drawing thread ended early.")));
  started.worker.unref();
  return started;
}

/**
 * Starts a thread that draws while the rest of the program goes on: to be called early, since loading the drawing libraries
 * takes as long as computing a small survey. One: on the two cores of a small computer a second costs more than it saves.
 * Without it, and where the built file is not there, charts are drawn in place.
 */
export function startDrawingThread(): void {
  const path = fileURLToPath(new URL("./drawing-thread.js", import.meta.url));
  if (thread === undefined && existsSync(path)) thread = startThread(path);
}

export const hasDrawingThread = (): boolean => thread !== undefined;

/** What has been sent to the thread: a chart is asked for ahead, by the page and by the document to edit. */
const drawn = new WeakMap<Words, WeakMap<Chart, Promise<Svgs>>>();
let sent = 0;

/** The pictures of a chart as SVG, by the thread where there is one. The same chart and words give the same strings. */
export function drawSvgs(chart: Chart, words: Words): Promise<Svgs> {
  if (thread === undefined) return chartSvgs(chart, words);
  const own = drawn.get(words) ?? new WeakMap<Chart, Promise<Svgs>>();
  drawn.set(words, own);
  const known = own.get(chart) ?? drawnBy(thread, chart, words.language);
  own.set(chart, known);
  return known;
}

function drawnBy({ worker, waiting }: Thread, chart: Chart, language: string): Promise<Svgs> {
  return new Promise((resolve, reject) => {
    sent += 1;
    waiting.set(sent, { resolve, reject });
    worker.ref();
    worker.postMessage({ id: sent, chart, language } satisfies ToDraw);
  });
}
