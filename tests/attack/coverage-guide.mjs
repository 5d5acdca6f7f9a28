// What a run of the program reached, as V8 counts it: the guide of the long attack.
import { Session } from "node:inspector";

const ours =
  /\/dist\/(?:read|settings|columns|describe|compare|cli|results|render)\/|\/node_modules\/(?:yaml|csv-parse|saxen|yauzl|hyparquet|zod)\//;

/** Counts are kept as powers of two: a loop that goes round a thousand times more is news, one time more is not. */
const bucket = (count) => Math.ceil(Math.log2(count + 1));

export class CoverageGuide {
  #session = new Session();
  #seen = new Set();

  constructor() {
    this.#session.connect();
    this.#call("Profiler.enable");
    this.#call("Profiler.startPreciseCoverage", { callCount: true, detailed: true });
  }

  #call(method, parameters) {
    let outcome;
    // Within one thread the session answers before it returns.
    this.#session.post(method, parameters, (error, result) => {
      if (error) throw error;
      outcome = result;
    });
    return outcome;
  }

  /** Number of places and counts that no run before has reached. */
  news() {
    let found = 0;
    for (const { url, scriptId, functions } of this.#call("Profiler.takePreciseCoverage").result) {
      if (!ours.test(url)) continue;
      for (const { ranges } of functions) {
        for (const { startOffset, endOffset, count } of ranges) {
          if (count === 0) continue;
          const key = `${scriptId}:${startOffset}:${endOffset}:${bucket(count)}`;
          if (this.#seen.has(key)) continue;
          this.#seen.add(key);
          found += 1;
        }
      }
    }
    return found;
  }

  get reached() {
    return this.#seen.size;
  }
}
