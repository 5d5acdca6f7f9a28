import { existsSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { Worker } from "node:worker_threads";
import { type ComparedSurvey, type ReadOrRefused, readResults } from "./read-results.js";

/** A results file to read. */
export interface ToRead {
  /** Its place in the list of surveys. */
  readonly at: number;
  readonly path: string;
  readonly survey: ComparedSurvey;
}

/** What a reading thread sends back for each file. */
export interface SurveyRead {
  readonly at: number;
  readonly read: ReadOrRefused;
}

/** With fewer files a second thread would start up longer than it helps. */
export const fewestForThread = 60;

/** Room for what is let go at once: files are read one by one, and a thread would take three times as much without gain. */
const youngMegabytes = 16;

/** Reads the files in a thread of its own, which ends with them. Rejects where the thread fails. */
function readInThread(script: string, files: readonly ToRead[]): Promise<readonly SurveyRead[]> {
  return new Promise((resolve, reject) => {
    const worker = new Worker(script, { execArgv: [], resourceLimits: { maxYoungGenerationSizeMb: youngMegabytes } });
    const found: SurveyRead[] = [];
    worker.on("message", (one: SurveyRead) => {
      found.push(one);
      if (found.length < files.length) return;
      resolve(found);
      worker.terminate().catch(() => {});
    });
    worker.on("error", reject);
    worker.on("exit", () => reject(new Error("A reading thread ended early.")));
    worker.postMessage(files);
  });
}

async function readHere(files: readonly ToRead[]): Promise<SurveyRead[]> {
  const found: SurveyRead[] = [];
  for (const { at, path, survey } of files) found.push({ at, read: await readResults(path, survey) });
  return found;
}

/**
 * Reads results files one after the other; where they are many, half of them in a second thread, which halves the time on two
 * cores. Where the built file of the thread is not there, all are read here. In any order.
 */
export async function readAllResults(files: readonly ToRead[]): Promise<readonly SurveyRead[]> {
  const script = fileURLToPath(new URL("./reading-thread.js", import.meta.url));
  if (files.length < fewestForThread || !existsSync(script)) return readHere(files);
  const half = Math.ceil(files.length / 2);
  const parts = await Promise.all([readInThread(script, files.slice(half)), readHere(files.slice(0, half))]);
  return parts.flat();
}
