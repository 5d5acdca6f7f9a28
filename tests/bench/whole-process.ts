import { spawnSync } from "node:child_process";
import { join } from "node:path";
import { pathToFileURL } from "node:url";

export interface WholeProcess {
  /** From start to end, as a user waits. */
  readonly seconds: number;
  /** Seconds of processors that the process and its threads took, without the browser's. */
  readonly cpuSeconds: number;
  /** Most memory at a time, MB. */
  readonly megabytes: number;
}

/** Runs the built program in a process of its own, which tells what it took. */
export function wholeProcess(args: readonly string[]): WholeProcess {
  const main = pathToFileURL(join(import.meta.dirname, "../../dist/cli/main.js")).href;
  const script = `
    const { run } = await import(${JSON.stringify(main)});
    const say = (text) => void process.stderr.write(text + "\\n");
    const exitWith = (code) => { process.exitCode = code; };
    await run(${JSON.stringify(args)}, { out() {}, say, watched: false, environment: {}, exitWith });
    const { userCPUTime, systemCPUTime, maxRSS } = process.resourceUsage();
    process.stdout.write(JSON.stringify({ cpuSeconds: (userCPUTime + systemCPUTime) / 1e6, megabytes: maxRSS / 1024 }));
  `;
  const start = performance.now();
  const ran = spawnSync(process.execPath, ["--input-type=module", "-e", script], { encoding: "utf8" });
  if (ran.status !== 0) throw new Error(`The program failed: ${ran.stderr}`);
  const told = JSON.parse(ran.stdout) as Omit<WholeProcess, "seconds">;
  return { seconds: (performance.now() - start) / 1000, ...told };
}

/** Marks a number that is over what was asked for. */
export const flag = (over: boolean): string => (over ? " !" : "");
