import { groupProblems, InputError } from "../describe/problems.js";
import { OutputProblem } from "../render/output-folder.js";
import type { Words } from "../render/words.js";
import { UsageError } from "./clock.js";

/** What went wrong, in lines for a person, and the exit code that says whose turn it is. */
export interface Failure {
  readonly lines: readonly string[];
  /** 2: the input, the settings or the call need a change. 70: a fault of the program. */
  readonly exitCode: 2 | 70;
}

function inputLines(error: InputError, words: Words): string[] {
  return groupProblems(error.problems).flatMap((group) => [
    words.text(group.title),
    ...group.examples.map((example) => `    ${words.text(example)}`),
    ...(group.more > 0 ? [`    ${words.text({ id: "cli.more", values: { more: group.more } })}`] : []),
    `  ${words.text(group.remedy)}`,
    "",
  ]);
}

function isMissingFile(error: unknown): error is NodeJS.ErrnoException {
  const code = error instanceof Error ? (error as NodeJS.ErrnoException).code : undefined;
  return code === "ENOENT" || code === "EISDIR" || code === "EACCES";
}

/** Turns anything thrown into words and an exit code. */
export function failureOf(error: unknown, words: Words): Failure {
  if (error instanceof InputError) return { lines: inputLines(error, words), exitCode: 2 };
  if (error instanceof OutputProblem) return { lines: [words.text(error.said)], exitCode: 2 };
  if (error instanceof UsageError) return { lines: [error.message], exitCode: 2 };
  if (isMissingFile(error)) {
    const values = { path: error.path ?? "", code: error.code ?? "" };
    return { lines: [words.text({ id: `cli.cannot-read.${error.code}`, values })], exitCode: 2 };
  }
  const detail = error instanceof Error ? (error.stack ?? error.message) : String(error);
  return { lines: [words.text({ id: "cli.our-fault", values: {} }), detail], exitCode: 70 };
}
