import { spawnSync } from "node:child_process";
import { join } from "node:path";

export interface WholeProcess {
  /** From start to end, as a user waits. */
  readonly seconds: number;
  /** Seconds of processors that the process and its threads took, without the browser's. */
  readonly cpuSeconds: number;
  /** Most memory at a time, MB. */
  readonly megabytes: number;
}

const start = join(import.meta.dirname, "../../dist/cli/start.js");
/** Loaded before the program: at its end it tells what the process took, beside the program's own output. */
const teller = `data:text/javascript,${encodeURIComponent(`
  import { writeSync } from "node:fs";
  process.on("exit", () => {
    const { userCPUTime, systemCPUTime, maxRSS } = process.resourceUsage();
    writeSync(3, JSON.stringify({ cpuSeconds: (userCPUTime + systemCPUTime) / 1e6, megabytes: maxRSS / 1024 }));
  });
`)}`;

/** Runs the built program in a process of its own, as a user does. */
export function wholeProcess(args: readonly string[]): WholeProcess {
  const begin = performance.now();
  const ran = spawnSync(process.execPath, ["--import", teller, start, ...args], {
    encoding: "utf8",
    stdio: ["ignore", "ignore", "pipe", "pipe"],
  });
  const seconds = (performance.now() - begin) / 1000;
  if (ran.status !== 0) throw new Error(`The program failed: ${ran.stderr}`);
  return { seconds, ...(JSON.parse(ran.output[3] ?? "") as Omit<WholeProcess, "seconds">) };
}

/** Marks a number that is over what was asked for. */
export const flag = (over: boolean): string => (over ? " !" : "");
