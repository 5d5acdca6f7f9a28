import { OutputProblem } from "../render/output-folder.js";
import { loadWords, type Words } from "../render/words.js";
import { groupProblems, InputError } from "../settings/problems.js";
import { ListedProblems, Told } from "./saying-in.js";
import { UsageError } from "./usage-error.js";

/** What went wrong, in lines for a person, and the exit code that says whose turn it is. */
export interface Failure {
  readonly lines: readonly string[];
  /** 2: the input, the settings or the call need a change. 70: a fault of the program. 71: the computer lacks memory. */
  readonly exitCode: 2 | 70 | 71;
}

function inputLines(error: InputError, words: Words, list: string | null = null): string[] {
  const groups = groupProblems(error.problems).flatMap((group) => [
    words.text(group.title),
    ...group.examples.map((example) => `    ${words.text(example)}`),
    ...(group.more > 0 ? [`    ${words.text({ id: "cli.more", values: { more: group.more } })}`] : []),
    `  ${words.text(group.remedy)}`,
    "",
  ]);
  return list === null ? groups : [...groups, words.text({ id: "cli.problems-listed", values: { path: list } })];
}

/** Errors of the file system that have words of their own; ENOTDIR is a path through something that is no folder. */
const said: Readonly<Record<string, string>> = {
  ENOENT: "ENOENT",
  ENOTDIR: "ENOENT",
  EISDIR: "EISDIR",
  EACCES: "EACCES",
  EPERM: "EACCES",
};

/** True for what the operating system says about a path that the user gave. */
function isAboutAFile(error: unknown): error is NodeJS.ErrnoException {
  if (!(error instanceof Error)) return false;
  const { code, path, syscall } = error as NodeJS.ErrnoException;
  return code !== undefined && path !== undefined && syscall !== undefined;
}

/** What the engine and the system say where memory is short; a heap that is full ends the program before anything can be said. */
function isLowMemory(error: unknown): boolean {
  if (!(error instanceof Error)) return false;
  const { code } = error as NodeJS.ErrnoException;
  if (code === "ENOMEM" || code === "ERR_WORKER_OUT_OF_MEMORY" || code === "ERR_MEMORY_ALLOCATION_FAILED") return true;
  return (
    error instanceof RangeError && /allocation failed|out of memory|Invalid typed array length/i.test(error.message)
  );
}

/** Turns anything thrown into words, of the language it was told in or else English, and an exit code. */
export function failureOf(error: unknown): Failure {
  return error instanceof Told ? failureIn(error.words, error.cause) : failureIn(loadWords("en"), error);
}

function failureIn(words: Words, error: unknown): Failure {
  if (error instanceof ListedProblems) return { lines: inputLines(error.input, words, error.list), exitCode: 2 };
  if (error instanceof InputError) return { lines: inputLines(error, words), exitCode: 2 };
  if (error instanceof OutputProblem) return { lines: [words.text(error.said)], exitCode: 2 };
  if (error instanceof UsageError) return { lines: [words.text(error.said)], exitCode: 2 };
  if (isAboutAFile(error)) {
    const { path = "", code = "" } = error;
    const id = `cli.cannot-read.${said[code] ?? "other"}`;
    return { lines: [words.text({ id, values: { path, code } })], exitCode: 2 };
  }
  if (isLowMemory(error)) return { lines: [words.text({ id: "cli.low-memory", values: {} })], exitCode: 71 };
  const detail = error instanceof Error ? (error.stack ?? error.message) : String(error);
  return {
    lines: [words.text({ id: "cli.our-fault", values: {} }), detail],
    exitCode: 70,
  };
}
