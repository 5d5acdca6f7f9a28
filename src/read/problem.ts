/** Every kind of thing that can be wrong with the input. Its words are `input.problem.<kind>` and `input.remedy.<kind>`. */
export const problemKinds = [
  // The file as a whole.
  "empty-file",
  "no-rows",
  "not-text",
  "one-column",
  "delimiter-unclear",
  "broken-quotes",
  "uneven-row",
  "duplicate-column",
  "unnamed-column",
  "file-too-large",
  "broken-file",
  "not-a-file",
  "encrypted-file",
  "unsafe-name",
  "encoding-contradicted",
  "no-tables",
  // Workbooks, and tables that belong together.
  "sheet-unclear",
  "sheet-not-found",
  "tables-unclear",
  "join-column-not-found",
  "join-mismatch",
  "duplicate-key",
  "formula-without-value",
  "merged-cells",
  "nested-column",
  "entry-twice",
  "stray-byte",
  // The settings file.
  "data-outside-folder",
  "settings-syntax",
  "settings-unknown-key",
  "settings-wrong-type",
  "settings-not-an-option",
  "settings-out-of-range",
  "settings-missing-key",
  "settings-unanswered",
  "settings-ages-reversed",
  "settings-decision-limit",
  "settings-decision-twice",
  "settings-code-twice",
  "settings-column-twice",
  "settings-stratum-unknown",
  "population-below-sample",
  // The list of clusters.
  "cluster-list-unmatched",
  "cluster-list-twice",
  "cluster-list-number",
  "cluster-list-code",
  "cluster-list-frame",
  // Which column is what.
  "column-not-found",
  "role-missing",
  "role-unclear",
  "age-missing",
  "measure-missing",
  "cluster-numbers-repeat",
  "column-tells-of-people",
  // What stands in a column.
  "not-a-number",
  "negative-measure",
  "zero-measure",
  "negative-age",
  "mixed-decimal-signs",
  "thousands-unclear",
  "missing-code-likely",
  "unit-unclear",
  "unit-contradicted",
  "units-mixed",
  "columns-swapped",
  "row-swapped",
  "total-row",
  "codes-unclear",
  "unknown-code",
  "not-a-date",
  "impossible-date",
  "future-date",
  "date-order-unclear",
  "date-order-mixed",
  "date-forms-mixed",
  "dates-half-converted",
  "birth-after-interview",
  "ages-contradict",
  "age-in-years",
  "measures-unrelated",
  "oedema-in-most",
  "scores-impossible",
  "weight-not-positive",
] as const;
export type ProblemKind = (typeof problemKinds)[number];

/** One thing that the user has to change in the data or the settings before a report can be made. */
export interface InputProblem {
  readonly kind: ProblemKind;
  /** Name of the data or settings file. */
  readonly file: string;
  /** Row as a spreadsheet shows it: the first, where several rows hold the same value. */
  readonly row?: number;
  /** Line of the settings file. */
  readonly line?: number;
  /** The column's original name. */
  readonly column?: string;
  /** The cell's text as it stands in the file, unclipped. */
  readonly value?: string;
  /** Cells this problem stands for: all that hold the same value; 1 if absent. */
  readonly count?: number;
  /** Further values for the words. */
  readonly details?: Readonly<Record<string, string | number | readonly string[]>>;
  /** Message id of what to do about it. */
  readonly remedy: `input.remedy.${string}`;
}

/** A problem with its usual remedy. */
export function inputProblem(
  kind: ProblemKind,
  file: string,
  rest: Omit<Partial<InputProblem>, "kind" | "file"> = {},
): InputProblem {
  return { remedy: `input.remedy.${kind}`, ...rest, kind, file };
}

/** The input needs a change: carries everything found, so that the user can mend it all in one go. */
export class InputError extends Error {
  /** Exit code of the program. */
  readonly exitCode = 2;
  readonly problems: readonly InputProblem[];

  constructor(problems: readonly InputProblem[]) {
    super([...new Set(problems.map((problem) => problem.kind))].join(", "));
    this.name = "InputError";
    this.problems = problems;
  }
}

/** Rows named one by one; beyond that they are only counted. */
const rowsNamed = 1000;

/** Collects problems that each concern one row, and only counts them after the first thousand. */
export class RowProblems {
  readonly #named: InputProblem[] = [];
  #count = 0;

  add(make: () => InputProblem): void {
    this.#count += 1;
    if (this.#named.length < rowsNamed) this.#named.push(make());
  }

  get count(): number {
    return this.#count;
  }

  /** The problems; the last one stands for all those that were only counted. */
  list(): InputProblem[] {
    const rows = [...this.#named];
    const last = rows.pop();
    return last === undefined ? [] : [...rows, { ...last, count: this.#count - rows.length }];
  }
}
