/** Everything the command line touches outside itself, in one object, so that a run can be tested without a terminal. */
export interface Effects {
  /** Data the user asked for on standard output. */
  out(text: string): void;
  /** Talk: stages, notes, errors; on standard error. */
  say(text: string): void;
  /** True when standard error is a terminal that a person watches. */
  readonly watched: boolean;
  readonly environment: Readonly<Record<string, string | undefined>>;
  /** Today in days since 1970: only to refuse dates that have not come yet, never printed. Not checked where absent. */
  readonly today?: number;
  /** Sets the exit code; the process ends by itself so that nothing written is cut off. */
  exitWith(code: number): void;
}

export const realEffects: Effects = {
  out: (text) => void process.stdout.write(text),
  say: (text) => void process.stderr.write(`${text}\n`),
  watched: process.stderr.isTTY === true,
  environment: process.env,
  today: Math.floor(Date.now() / 86_400_000),
  exitWith: (code) => {
    process.exitCode = code;
  },
};
