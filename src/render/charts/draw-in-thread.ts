import { existsSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { Worker } from "node:worker_threads";
import { svgOf } from "./draw-svg.js";
import type { Picture } from "./picture.js";

/** What a drawing thread is sent. */
export interface ToDraw {
  readonly id: number;
  readonly picture: Picture;
}

/** What it sends back. */
export type Drawn = { readonly id: number; readonly svg: string } | { readonly id: number; readonly failure: string };

interface Waiting {
  readonly resolve: (svg: string) => void;
  readonly reject: (error: Error) => void;
}

interface Thread {
  readonly worker: Worker;
  readonly waiting: Map<number, Waiting>;
}

let thread: Thread | undefined;

function startThread(path: string): Thread {
  // The flags of the program's own start are not the thread's.
  const started: Thread = { worker: new Worker(path, { execArgv: [] }), waiting: new Map() };
  const failAll = (error: Error): void => {
    thread = undefined;
    for (const { reject } of started.waiting.values()) reject(error);
    started.waiting.clear();
  };
  started.worker.on("message", (drawn: Drawn) => {
    const waiting = started.waiting.get(drawn.id);
    started.waiting.delete(drawn.id);
    if ("svg" in drawn) waiting?.resolve(drawn.svg);
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

/** What has been sent to the thread: a picture is asked for ahead, by the page and by the document to edit. */
const drawn = new Map<string, Promise<string>>();

/** One picture as an SVG string, by the thread where there is one. The same picture gives the same string. */
export function drawSvg(picture: Picture): Promise<string> {
  if (thread === undefined) return svgOf(picture);
  const key = JSON.stringify(picture);
  const known = drawn.get(key) ?? drawnBy(thread, picture, drawn.size + 1);
  drawn.set(key, known);
  return known;
}

function drawnBy({ worker, waiting }: Thread, picture: Picture, id: number): Promise<string> {
  return new Promise((resolve, reject) => {
    waiting.set(id, { resolve, reject });
    worker.ref();
    worker.postMessage({ id, picture } satisfies ToDraw);
  });
}
