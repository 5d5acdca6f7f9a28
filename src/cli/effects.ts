import { createInterface } from "node:readline/promises";
import { withoutIsolates } from "../render/isolate.js";

/** Everything the command line touches outside itself, in one object, so that a run can be tested without a terminal. */
export interface Effects {
  /** Data the user asked for on standard output. */
  out(text: string): void;
  /** Talk: stages, notes, errors; on standard error. */
  say(text: string): void;
  /** True when standard error is a terminal that a person watches. */
  readonly watched: boolean;
  /**
   * Puts a question to the person at the terminal and gives the line typed, null when the input has ended; absent where nobody sits
   * there, as in a pipe.
   */
  readonly ask?: (question: string) => Promise<string | null>;
  readonly environment: Readonly<Record<string, string | undefined>>;
  /** Today in days since 1970: only to refuse dates that have not come yet, never printed. Not checked where absent. */
  readonly today?: number;
  /** Sets the exit code; the process ends by itself so that nothing written is cut off. */
  exitWith(code: number): void;
}

/** Controls but for tab and line end, and signs that turn the direction of everything behind them (Unicode Standard Annex 9). */
const steering = /(?![\t\n])[\p{Cc}\u202A-\u202E]/gu;

/** The same, with nothing said that would steer the terminal: names and texts of files stand in what is told. */
export function speakingPlainly(effects: Effects): Effects {
  return { ...effects, say: (text) => effects.say(text.replace(steering, "")) };
}

/** One line from the terminal; null at the end of input. */
async function askTerminal(question: string): Promise<string | null> {
  const terminal = createInterface({ input: process.stdin, output: process.stderr });
  try {
    const ended = new Promise<null>((resolve) => terminal.once("close", () => resolve(null)));
    return await Promise.race([terminal.question(withoutIsolates(question)), ended]);
  } finally {
    terminal.close();
  }
}

export const realEffects: Effects = {
  out: (text) => void process.stdout.write(text),
  say: (text) => void process.stderr.write(`${withoutIsolates(text)}\n`),
  watched: process.stderr.isTTY === true,
  ...(process.stdin.isTTY === true && process.stderr.isTTY === true ? { ask: askTerminal } : {}),
  environment: process.env,
  today: Math.floor(Date.now() / 86_400_000),
  exitWith: (code) => {
    process.exitCode = code;
  },
};
