import type { InputProblem, ProblemKind } from "../read/problem.js";
import { message } from "../results/message.js";
import type { ProblemLine } from "../results/problem-line.js";
import type { Message, MessageValue } from "../results/schema.js";
import { showValue } from "./show-value.js";

export {
  InputError,
  type InputProblem,
  inputProblem,
  type ProblemKind,
  RowProblems,
} from "../read/problem.js";

/** Examples shown of each group. */
const examplesShown = 5;

/** Problems of one kind in one column of one file, ready to be put into words. */
export interface ProblemGroup {
  readonly kind: ProblemKind;
  readonly file: string;
  readonly column: string | null;
  /** Cells, rows or keys in the group. */
  readonly count: number;
  /** What is wrong. */
  readonly title: Message;
  /** The first five, each with its row or line and its value. */
  readonly examples: readonly Message[];
  /** How many more there are than the examples stand for. */
  readonly more: number;
  /** What to do about it. */
  readonly remedy: Message;
}

/** Kinds whose examples have words of their own: `input.example.<kind>`. */
const ownExample = [
  "uneven-row",
  "units-mixed",
  "row-swapped",
  "birth-after-interview",
  "date-order-unclear",
  "settings-syntax",
  "settings-unknown-key",
  "settings-wrong-type",
  "settings-not-an-option",
  "settings-out-of-range",
  "settings-missing-key",
  "population-below-sample",
  "cluster-list-frame",
  "column-not-found",
  "duplicate-column",
  "unnamed-column",
  "duplicate-key",
] as const satisfies readonly ProblemKind[];

type OwnExample = (typeof ownExample)[number];
const hasOwnExample = (kind: ProblemKind): kind is OwnExample => (ownExample as readonly ProblemKind[]).includes(kind);

function shown(value: string | number | readonly string[]): MessageValue {
  if (typeof value === "number") return value;
  return typeof value === "string" ? showValue(value) : value.map(showValue);
}

/** The values a problem's words may use; text from the file is clipped and its control characters made visible. */
function valuesOf(problem: InputProblem): Record<string, MessageValue> {
  const values: Record<string, MessageValue> = { file: problem.file, count: problem.count ?? 1 };
  if (problem.row !== undefined) values.row = problem.row;
  if (problem.line !== undefined) values.line = problem.line;
  if (problem.column !== undefined) values.column = showValue(problem.column);
  if (problem.value !== undefined) values.value = showValue(problem.value);
  for (const [key, value] of Object.entries(problem.details ?? {})) {
    values[key] = key === "role" ? message(`input.role.${String(value)}`) : shown(value);
    if (key === "role") values.key = String(value);
  }
  return values;
}

function exampleOf(problem: InputProblem): Message | null {
  const values = valuesOf(problem);
  if (hasOwnExample(problem.kind)) return message(`input.example.${problem.kind}`, values);
  if (problem.line !== undefined)
    return message(`input.example.${problem.value === undefined ? "line" : "line-value"}`, values);
  if (problem.row !== undefined)
    return message(`input.example.${problem.value === undefined ? "row" : "cell"}`, values);
  return problem.value === undefined ? null : message("input.example.value", values);
}

/**
 * Problems gathered by kind, file and column, in the order in which they were found. Each group shows its first five;
 * `more` counts the cells, rows or keys beyond those.
 */
export function groupProblems(problems: readonly InputProblem[]): ProblemGroup[] {
  const groups = new Map<string, InputProblem[]>();
  for (const problem of problems) {
    const key = JSON.stringify([problem.kind, problem.file, problem.column, problem.remedy, problem.details?.role]);
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [problem]);
    else group.push(problem);
  }
  return [...groups.values()].map(groupOf);
}

function groupOf(problems: readonly InputProblem[]): ProblemGroup {
  const first = problems[0] as InputProblem;
  const total = (list: readonly InputProblem[]): number => list.reduce((sum, problem) => sum + (problem.count ?? 1), 0);
  const count = total(problems);
  const examples = problems.slice(0, examplesShown);
  const values = { ...valuesOf(first), count };
  return {
    kind: first.kind,
    file: first.file,
    column: first.column ?? null,
    count,
    title: message(`input.problem.${first.kind}`, values),
    examples: examples.map(exampleOf).filter((example) => example !== null),
    more: count - total(examples),
    remedy: message(first.remedy, values),
  };
}

/** A problem by itself, as a line of a list. */
export function problemLine(problem: InputProblem): ProblemLine {
  const values = valuesOf(problem);
  return {
    file: problem.file,
    row: problem.row ?? null,
    line: problem.line ?? null,
    column: problem.column === undefined ? "" : showValue(problem.column),
    value: problem.value === undefined ? "" : showValue(problem.value),
    count: problem.count ?? 1,
    title: message(`input.problem.${problem.kind}`, values),
    detail: hasOwnExample(problem.kind) ? message(`input.example.${problem.kind}`, values) : null,
    remedy: message(problem.remedy, values),
  };
}
