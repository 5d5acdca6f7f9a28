import type { Children } from "../derive/children.js";
import { indexIds } from "../derive/children.js";
import { bookOf } from "../disclosure/book.js";
import { message } from "../results/message.js";
import type { CheckResult, Message } from "../results/schema.js";
import type { SurveySettings } from "../settings/settings.js";
import { seedFor } from "../stats/random.js";
import type { CannotTell, Check, CheckInput, Need, RowToCheck } from "./check.js";

/** A check of any kind of numbers: the list of checks holds them side by side. */
// biome-ignore lint/suspicious/noExplicitAny: each check keeps its own Numbers type; only the runner sees them mixed.
export type AnyCheck = Check<any>;

export interface CheckRun {
  readonly result: CheckResult;
  readonly rows: readonly RowToCheck[];
}

const present: Readonly<Record<Need, (children: Children) => boolean>> = {
  sex: (children) => children.sex.some((code) => code !== 0),
  age: (children) => children.ageDays.some((days) => !Number.isNaN(days)),
  "birth-date": (children) => children.birthDay?.some((day) => !Number.isNaN(day)) ?? false,
  weight: (children) => children.weight?.values.some((value) => !Number.isNaN(value)) ?? false,
  height: (children) => children.height?.values.some((value) => !Number.isNaN(value)) ?? false,
  arm: (children) => children.arm?.values.some((value) => !Number.isNaN(value)) ?? false,
  position: (children) => children.position?.some((code) => code !== 0) ?? false,
  cluster: (children) => (children.cluster?.labels.length ?? 0) > 0,
  team: (children) => (children.team?.labels.length ?? 0) > 0,
  "interview-date": (children) => children.interviewDay?.some((day) => !Number.isNaN(day)) ?? false,
  "entry-time": (children) => children.entryTime?.some((time) => !Number.isNaN(time)) ?? false,
  "weight-for-height": (children) => children.indices["weight-for-height"].z.some((z) => !Number.isNaN(z)),
  "any-index": (children) => indexIds.some((id) => children.indices[id].z.some((z) => !Number.isNaN(z))),
};

function unknownResult(check: AnyCheck, reason: Message): CheckRun {
  return {
    result: {
      id: check.id,
      section: check.section,
      reading: "unknown",
      reason,
      quantities: [],
      groups: [],
      finding: message("checks.unknown.finding", { check: message(`checks.${check.id}.title`), reason }),
      meaning: [],
      causes: [],
      actions: [],
      method: [],
      sources: [...check.sources],
      charts: [],
      tables: [],
      rowsToCheck: 0,
    },
    rows: [],
  };
}

function isCannotTell(numbers: unknown): numbers is CannotTell {
  return typeof numbers === "object" && numbers !== null && "cannotTell" in numbers;
}

/**
 * Runs one check. Owns all failure: a need that is absent, too little data, or a throw become a result that reads
 * `unknown` with its reason; the report still appears.
 */
export function runCheck(check: AnyCheck, children: Children, settings: SurveySettings): CheckRun {
  if (children.count === 0) return unknownResult(check, message("checks.unknown.no-children"));
  const missing = check.needs.find((need) => !present[need](children));
  if (missing !== undefined) {
    return unknownResult(check, message("checks.unknown.needs", { need: message(`needs.${missing}`) }));
  }
  const input: CheckInput = { children, settings, seed: seedFor(settings.seed, check.id), book: bookOf(children) };
  try {
    const numbers = check.compute(input);
    if (isCannotTell(numbers)) return unknownResult(check, numbers.cannotTell);
    const reading = check.judge(numbers);
    const said = check.say(numbers, reading);
    const rows = check.rows?.(numbers, input) ?? [];
    return {
      result: {
        id: check.id,
        section: check.section,
        reading,
        quantities: [...check.quantities(numbers)],
        groups: [...(check.groups?.(numbers) ?? [])],
        finding: said.finding,
        meaning: [...said.meaning],
        causes: [...said.causes],
        actions: [...said.actions],
        method: [...said.method],
        sources: [...check.sources],
        charts: [...(check.charts?.(numbers, reading) ?? [])],
        tables: [...(check.tables?.(numbers) ?? [])],
        rowsToCheck: rows.length,
      },
      rows,
    };
  } catch (error) {
    const text = error instanceof Error ? error.message : String(error);
    return unknownResult(check, message("checks.unknown.failed", { error: text }));
  }
}
