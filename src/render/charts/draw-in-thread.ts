import { existsSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { Worker } from "node:worker_threads";
import { svgOf } from "./draw-svg.js";
import type { Spec } from "./theme.js";

/** What a drawing thread is sent. */
export interface ToDraw {
  readonly id: number;
  readonly spec: Spec;
}

/** What it sends back. */
export type Drawn = { readonly id: number; readonly svg: string } | { readonly id: number; readonly failure: string };

/** Threads that a report is drawn by: they share the two cores of a small computer once the computing is done. */
export const drawingThreads = 2;

interface Waiting {
  readonly resolve: (svg: string) => void;
  readonly reject: (error: Error) => void;
}

interface Thread {
  readonly worker: Worker;
  readonly waiting: Map<number, Waiting>;
}

let threads: Thread[] = [];
let sent = 0;

function startThread(path: string): Thread {
  const thread: Thread = { worker: new Worker(path), waiting: new Map() };
  const failAll = (error: Error): void => {
    threads = threads.filter((one) => one !== thread);
    for (const { reject } of thread.waiting.values()) reject(error);
    thread.waiting.clear();
  };
  thread.worker.on("message", (drawn: Drawn) => {
    const waiting = thread.waiting.get(drawn.id);
    thread.waiting.delete(drawn.id);
    if ("svg" in drawn) waiting?.resolve(drawn.svg);
    else waiting?.reject(new Error(drawn.failure));
    // An idle thread keeps no program alive.
    if (thread.waiting.size === 0) thread.worker.unref();
  });
  thread.worker.on("error", failAll);
  thread.worker.on("exit", () => failAll(new Error("A drawing thread ended early.")));
  thread.worker.unref();
  return thread;
}

/**
 * Starts threads that draw while the rest of the program goes on: to be called early, since loading the drawing libraries
 * takes as long as computing a small survey. Without it, and where the built file is not there, charts are drawn in place.
 */
export function startDrawingThreads(count: number): void {
  const path = fileURLToPath(new URL("./drawing-thread.js", import.meta.url));
  if (threads.length > 0 || !existsSync(path)) return;
  threads = Array.from({ length: count }, () => startThread(path));
}

export function hasDrawingThreads(): boolean {
  return threads.length > 0;
}

/** What has been sent to the threads: a picture is asked for ahead, by the page and by the document to edit. */
const drawn = new Map<string, Promise<string>>();

/** One specification as an SVG string, by the thread with the least to do. The same specification gives the same string. */
export function drawSvg(spec: Spec): Promise<string> {
  const [first, ...others] = threads;
  if (first === undefined) return svgOf(spec);
  const key = JSON.stringify(spec);
  const known = drawn.get(key) ?? drawnByThread(spec, first, others);
  drawn.set(key, known);
  return known;
}

function drawnByThread(spec: Spec, first: Thread, others: readonly Thread[]): Promise<string> {
  const thread = others.reduce((least, one) => (one.waiting.size < least.waiting.size ? one : least), first);
  sent += 1;
  const id = sent;
  return new Promise((resolve, reject) => {
    thread.waiting.set(id, { resolve, reject });
    thread.worker.ref();
    thread.worker.postMessage({ id, spec } satisfies ToDraw);
  });
}
