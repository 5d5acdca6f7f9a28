import { parentPort } from "node:worker_threads";
import { readResults } from "./read-results.js";
import type { SurveyRead, ToRead } from "./reading-threads.js";

/** A thread that reads the results files it is sent, one after the other. */
const port = parentPort;
if (port !== null) {
  port.on("message", async (surveys: readonly ToRead[]) => {
    for (const { at, path, survey } of surveys) {
      port.postMessage({ at, read: await readResults(path, survey) } satisfies SurveyRead);
    }
  });
}
