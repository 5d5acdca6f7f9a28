import type { ReadColumns } from "../columns/read-columns.js";
import { message } from "../results/message.js";
import type { Message } from "../results/schema.js";
import type { InputProblem, ProblemKind } from "../settings/problems.js";
import type { CodingRole, DateRole, MeasureRole, Role, RoleSpec } from "../settings/roles.js";
import { unanswered } from "../settings/settings-file.js";
import { showValue } from "../settings/show-value.js";
import type { DraftValue } from "./draft-text.js";

/** What the draft says about one role: keys of its mapping beside `column`, and comments. */
export interface RoleDraft {
  readonly keys: Readonly<Record<string, DraftValue>>;
  readonly comments: readonly Message[];
}

/** Kinds of problem that a key of the role's mapping settles. */
const settledBy = {
  "unit-unclear": "unit",
  "date-order-unclear": "date-order",
  "codes-unclear": "codes",
  "mixed-decimal-signs": "decimal",
  "cluster-numbers-repeat": "within",
} as const satisfies Partial<Record<ProblemKind, string>>;

/** A problem that an answer settles: the draft asks for it. */
export type AskedProblem = InputProblem & { readonly kind: keyof typeof settledBy };

export const isAsked = (problem: InputProblem): problem is AskedProblem => Object.hasOwn(settledBy, problem.kind);

function questionOf(problem: AskedProblem): Message {
  const { values, ...details } = problem.details ?? {};
  const listed = Array.isArray(values) ? { values: values.map(showValue) } : {};
  const shown = problem.value === undefined ? {} : { value: showValue(problem.value) };
  const { role = "", ...rest } = details as Record<string, string | number | string[]>;
  return message(`input.draft.ask.${problem.kind}`, { ...rest, ...listed, ...shown, key: role });
}

/** What was settled from the column's values, written out so that the user can see and change it. */
function settledKeys(role: Role, columns: ReadColumns): RoleDraft["keys"] {
  const measure = columns.measures.get(role as MeasureRole);
  if (measure?.unit) return { unit: measure.unit.id };
  if (role === "age-months" && columns.ageMonths?.unit === "days") return { unit: "days" };
  const date = columns.dates.get(role as DateRole);
  if (date?.order) return { "date-order": date.order };
  const codes = columns.codes.get(role as CodingRole);
  if (codes === undefined || codes.problems.some((problem) => problem.kind === "codes-unclear")) return {};
  const met = Object.entries(codes.meanings).filter(([, texts]) => texts.length > 0);
  return met.length === 0 ? {} : { codes: Object.fromEntries(met) };
}

/** Keys and comments for one role, from how its column was understood and the problems found in it. */
export function draftRole(
  role: Role,
  columns: ReadColumns,
  problems: readonly InputProblem[],
  spec: RoleSpec | undefined,
): RoleDraft {
  const answered = {
    ...(spec?.decimal === undefined ? {} : { decimal: spec.decimal }),
    ...(spec?.within === undefined ? {} : { within: spec.within }),
  };
  const comments: Message[] = [];
  const asked = new Set<string>();
  const toMend = new Map<ProblemKind, number>();
  const missing: InputProblem[] = [];
  for (const problem of problems) {
    if (isAsked(problem)) {
      const key = settledBy[problem.kind];
      if (!asked.has(key)) comments.push(questionOf(problem));
      asked.add(key);
    } else if (problem.kind === "missing-code-likely") missing.push(problem);
    else toMend.set(problem.kind, (toMend.get(problem.kind) ?? 0) + (problem.count ?? 1));
  }
  const rows = missing.reduce((sum, problem) => sum + (problem.count ?? 1), 0);
  const codes = missing.map((problem) => problem.value ?? "");
  if (codes.length > 0)
    comments.push(message("input.draft.missing-likely", { values: codes.map(showValue), count: rows }));
  for (const [kind, count] of toMend)
    comments.push(message("input.draft.to-mend", { kind: message(`input.kind.${kind as string}`), count }));
  return {
    keys: {
      ...settledKeys(role, columns),
      ...answered,
      ...Object.fromEntries([...asked].map((key) => [key, unanswered])),
      ...(codes.length > 0 ? { missing: codes } : {}),
    },
    comments,
  };
}
