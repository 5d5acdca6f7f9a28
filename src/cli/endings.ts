import { constants } from "node:os";
import type { Words } from "../render/words.js";

/** Exit code where what was asked for could not be written: 74, as in BSD's sysexits (EX_IOERR, from memory). */
export const cannotWrite = 74;

const signals = ["SIGINT", "SIGTERM", "SIGHUP"] as const;

/**
 * A signal that asks the program to end does so, by way of 'exit', so that the browser is stopped and unfinished files are cleared
 * away. The exit code is 128 and the signal's number, as shells have it.
 */
export function endOnSignals(): void {
  for (const signal of signals) process.once(signal, () => process.exit(128 + constants.signals[signal]));
}

/**
 * Where standard output cannot be written (the reader has gone, the device is full), that is said and the program ends with a
 * code of its own. Where nothing can be said either, the code alone tells.
 */
export function endOnBrokenOutput(): void {
  process.stderr.on("error", () => process.exit(cannotWrite));
  process.stdout.on("error", ({ code = "" }: NodeJS.ErrnoException) => {
    const id = code === "EPIPE" ? "cli.cannot-write.reader-gone" : "cli.cannot-write.other";
    void spoken().then((words) => {
      process.stderr.write(`${words.text({ id, values: { code } })}\n`, () => process.exit(cannotWrite));
    });
  });
}

/** Words are loaded only when there is something to say. */
async function spoken(): Promise<Words> {
  const [{ helpLanguage }, { wordsOf }] = await Promise.all([import("./help-language.js"), import("./language.js")]);
  return wordsOf(helpLanguage(process.argv.slice(2), process.env));
}
