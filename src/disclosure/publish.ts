import { emptyCell } from "../results/empty-cell.js";
import { keptBack, noChildren } from "../results/group.js";
import { message } from "../results/message.js";
import type {
  Answer,
  Chart,
  CheckResult,
  EstimateCell,
  EstimateResult,
  Message,
  Quantity,
  RepairResult,
  ScenarioResult,
  Table,
} from "../results/schema.js";
import { withholdBelow } from "../results/withhold-below.js";
import type { GroupBook } from "./book.js";

/** Everything that is printed with numbers of children, before the words that gather it are made. */
export interface Published {
  readonly checks: readonly CheckResult[];
  readonly estimates: readonly EstimateResult[];
  readonly scenarios: readonly ScenarioResult[];
  readonly answers: readonly Answer[];
  readonly repairs: readonly RepairResult[];
}

/** Ids that stand for no group of children. */
const noGroups: ReadonlySet<string> = new Set([noChildren, keptBack]);

/** Every group that some part of the results speaks of. */
export function groupsIn(part: unknown, found = new Set<string>()): Set<string> {
  if (typeof part !== "object" || part === null) return found;
  for (const [name, value] of Object.entries(part)) {
    if (name !== "of") groupsIn(value, found);
    else for (const id of Array.isArray(value) ? value : [value]) if (!noGroups.has(id)) found.add(id as string);
  }
  return found;
}

type Withheld = ReadonlySet<string>;

function quantity(own: Quantity, withheld: Withheld): Quantity {
  if (!withheld.has(own.of)) return own;
  return { id: own.id, of: own.of, unit: own.unit, value: null, reason: message("cell.protects-another") };
}

function table(own: Table, withheld: Withheld): Table[] {
  const { of } = own;
  if (!Array.isArray(of)) return withheld.has(of) ? [] : [own];
  const kept = [...of.keys()].filter((row) => !withheld.has(of[row] ?? ""));
  if (kept.length === of.length) return [own];
  return [{ ...own, rows: kept.map((row) => own.rows[row] ?? []), of: kept.flatMap((row) => of[row] ?? []) }];
}

function chart(own: Chart, withheld: Withheld): Chart[] {
  const told = <Part extends { readonly of: string }>(parts: readonly Part[]): Part[] =>
    parts.filter(({ of }) => !withheld.has(of));
  switch (own.kind) {
    case "category-shares":
      return [{ ...own, panels: told(own.panels) }];
    case "z-distribution":
      return [{ ...own, panels: told(own.panels) }];
    case "counts-over":
      return withheld.has(own.of) ? [] : [own];
    case "intervals":
      return [{ ...own, rows: told(own.rows) }];
    case "prevalence-bands":
      return [{ ...own, rows: told(own.rows) }];
    case "lines":
      return [{ ...own, panels: told(own.panels).map((panel) => ({ ...panel, points: told(panel.points) })) }];
    default:
      return [own];
  }
}

const isEmpty = (own: Chart): boolean =>
  ("panels" in own && own.panels.length === 0) || ("rows" in own && own.rows.length === 0);

/** A check without what must not be told. Where that is any number of its own, its sentences go too: they speak of it. */
function check(own: CheckResult, withheld: Withheld): CheckResult {
  const lost = [...groupsIn([own.quantities, own.groups, own.tables])].some((id) => withheld.has(id));
  const kept = {
    ...own,
    quantities: own.quantities.map((one) => quantity(one, withheld)),
    groups: own.groups
      .filter(({ of }) => !withheld.has(of))
      .map((group) => ({ ...group, quantities: group.quantities.map((one) => quantity(one, withheld)) })),
    charts: own.charts.flatMap((one) => chart(one, withheld)).filter((one) => !isEmpty(one)),
    tables: own.tables.flatMap((one) => table(one, withheld)),
  };
  if (!lost) return kept;
  const said: Message = message("checks.kept-back.finding", { check: message(`checks.${own.id}.title`) });
  return { ...kept, finding: said, meaning: [message("checks.kept-back.meaning", { limit: withholdBelow })] };
}

/** How many children a figure tells of beside the published one, and the most they could move a share by. */
function fewBeside(book: GroupBook, of: string, published: number): Message {
  const count = Math.abs(published - (book.size(of) ?? published));
  return message("cell.tells-of-few", { count, most: published === 0 ? 0 : count / published, limit: withholdBelow });
}

function cell(own: EstimateCell, withheld: Withheld, reason: Message): EstimateCell {
  return withheld.has(own.of) ? emptyCell(own, "withheld", reason) : own;
}

function estimate(own: EstimateResult, withheld: Withheld, book: GroupBook): EstimateResult {
  const protects = message("cell.protects-another");
  const tooFew = message("cell.too-few", { limit: withholdBelow });
  const n = own.overall?.n ?? 0;
  return {
    ...own,
    overall: own.overall === null ? null : cell(own.overall, withheld, tooFew),
    byExclusion: own.byExclusion.map((one) => ({
      ...one,
      cell: cell(one.cell, withheld, fewBeside(book, one.cell.of, n)),
    })),
    subgroups: own.subgroups.map((group) => {
      const cells = group.cells.map((one, k) =>
        withheld.has(one.of)
          ? { ...cell(one, withheld, protects), label: message("group.number", { number: k + 1 }) }
          : one,
      );
      if (cells.every((one, k) => one === group.cells[k])) return group;
      const { test: _, ...untested } = group;
      return { ...untested, cells };
    }),
  };
}

function scenario(own: ScenarioResult, withheld: Withheld, { book, sizes }: Context): ScenarioResult {
  const lost = own.outcomes.find(({ of }) => withheld.has(of));
  if (lost === undefined) return own;
  const why = fewBeside(book, lost.of, sizes.get(lost.estimate) ?? 0);
  const outcomes = own.outcomes.filter(({ of }) => !withheld.has(of));
  if (outcomes.length === 0) return { ...own, outcomes, reason: why };
  return own.note === undefined ? { ...own, outcomes, note: why } : { ...own, outcomes };
}

/** An answer whose draws must not be told keeps what chance alone gives. */
function answer(own: Answer, withheld: Withheld): Answer[] {
  if (withheld.has(own.of)) return [];
  if (own.draws === null || !withheld.has(own.draws.of)) return [own];
  return [{ ...own, repaired: null, draws: null, note: message("claims.kept-back", { limit: withholdBelow }) }];
}

function repair(own: RepairResult, withheld: Withheld): RepairResult {
  const outcomes = own.outcomes.filter(({ of }) => !withheld.has(of));
  if (outcomes.length === own.outcomes.length) return own;
  if (outcomes.length > 0) return { ...own, outcomes };
  const { found: _, ...rest } = own;
  return { ...rest, chance: null, outcomes, reason: message("repair.kept-back", { limit: withholdBelow }) };
}

interface Context {
  readonly book: GroupBook;
  /** Children in each published estimate. */
  readonly sizes: ReadonlyMap<string, number>;
}

/** Parts of the survey that cannot be left out one by one stand as one line, with their number. */
function smallPartsTogether(scenarios: readonly ScenarioResult[]): ScenarioResult[] {
  const kindOf = ({ id }: ScenarioResult): string | undefined => /^leave-out-(team|day)\//.exec(id)?.[1];
  const isKeptBack = (one: ScenarioResult): boolean =>
    kindOf(one) !== undefined && one.outcomes.length === 0 && one.reason?.id === "cell.tells-of-few";
  const together = (kind: string): ScenarioResult[] => {
    const own = scenarios.filter((one) => isKeptBack(one) && kindOf(one) === kind);
    const [first] = own;
    if (first === undefined) return [];
    const label = message(`scenario.leave-out-${kind}.small`, { count: own.length });
    const reason = message("consequence.reason.small-parts", { limit: withholdBelow });
    return [{ ...first, id: `leave-out-${kind}/small`, label, reason }];
  };
  return [...scenarios.filter((one) => !isKeptBack(one)), ...together("team"), ...together("day")];
}

/** The published parts without the numbers of some groups. */
function without(all: Published, withheld: Withheld, book: GroupBook): Published {
  const sizes = new Map(all.estimates.map(({ id, overall }) => [id, overall?.n ?? 0]));
  return {
    checks: all.checks.map((one) => check(one, withheld)),
    estimates: all.estimates.map((one) => estimate(one, withheld, book)),
    scenarios: smallPartsTogether(all.scenarios.map((one) => scenario(one, withheld, { book, sizes }))),
    answers: all.answers.flatMap((one) => answer(one, withheld)),
    repairs: all.repairs.map((one) => repair(one, withheld)),
  };
}

/**
 * What may be published of all that was computed: the audit of every group told of, and the numbers of those that must be
 * withheld taken out wherever they stand. The audit is repeated on what is left until it finds nothing, so that nothing leaves
 * here unaudited: each round withholds more groups, and there are finitely many.
 */
export function publishable(all: Published, book: GroupBook): Published {
  const withheld = new Set(book.audit(groupsIn(all)));
  for (;;) {
    const kept = without(all, withheld, book);
    const left = [...book.audit(withNumbers(kept))];
    if (left.length === 0) return kept;
    if (left.every((id) => withheld.has(id)))
      throw new Error(`Groups that must be withheld are still told of: ${left.join(", ")}.`);
    for (const id of left) withheld.add(id);
  }
}

/** The groups that numbers are still told of: cells and quantities without a value tell nothing. */
function withNumbers(kept: Published): Set<string> {
  const found = groupsIn([kept.scenarios, kept.answers, kept.repairs]);
  for (const one of kept.checks) {
    groupsIn([one.charts, one.tables], found);
    for (const { of, value } of one.quantities) if (value !== null) groupsIn({ of }, found);
    for (const { of, quantities } of one.groups) {
      groupsIn({ of }, found);
      for (const own of quantities) if (own.value !== null) groupsIn({ of: own.of }, found);
    }
  }
  for (const { overall, byExclusion, subgroups } of kept.estimates) {
    const cells = [overall, ...byExclusion.map((one) => one.cell), ...subgroups.flatMap((group) => group.cells)];
    for (const own of cells) if (own !== null && own.value !== null) groupsIn({ of: own.of }, found);
  }
  return found;
}
