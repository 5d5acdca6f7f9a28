/** Lying or standing: a child measured the other way is 0.7 cm longer or shorter, about a fifth of a z-score of height. */
import { daysPerMonth } from "../../derive/age.js";
import type { Children } from "../../derive/children.js";
import { heightFromCentimetres, heightFromDays, positionBy } from "../../derive/position.js";
import type { GroupId } from "../../results/group.js";
import { message } from "../../results/message.js";
import type { Interval, Reading, Table } from "../../results/schema.js";
import type { Check } from "../check.js";
import { type Clustering, clusteringOf, measurementDesign } from "../shared/clustering.js";
import { adjustTogether } from "../shared/multiplicity.js";
import { fewestChildren, mostSerious, readGroupsTogether, type SizeLimits } from "../shared/reading.js";
import { type DrawnShares, findingVariant, shareChart, shareTable, unusualLabels } from "../shared/share-drawing.js";
import {
  countGroups,
  type GroupShare,
  groupAgainstOthers,
  groupShareReading,
  readGroups,
  shareInterval,
} from "../shared/shares.js";
import { toldOf } from "../shared/told.js";

/**
 * Own judgement, no published pass mark: share of children not measured the way the rule asks. The 0.7 cm conversion
 * puts right what was written down, so a few in a hundred do no harm; at one in five the position as written is itself in
 * doubt, and a wrong 0.7 cm stays in the height. The lower end of the interval must lie above 2 and 10 in a hundred, so
 * that a handful of children says nothing.
 */
const shareLimits = { explain: { share: 0.05, low: 0.02 }, doubt: { share: 0.2, low: 0.1 } } as const;
/** The same in a team, over the share among the other teams. */
const teamLimits: SizeLimits = { explain: 0.05, doubt: 0.2 };

export interface MeasuringPositionNumbers {
  /** The children looked at; those with a height; those whom the other rule applies to. */
  readonly of: { readonly looked: GroupId; readonly measured: GroupId; readonly other: GroupId };
  readonly rule: "age" | "height";
  /** Children with a height. */
  readonly measured: number;
  /** Of these, with a position written down. */
  readonly recorded: number;
  /** Of these, where the rule can be applied: the children looked at. */
  readonly n: number;
  readonly wrong: number;
  readonly share: number;
  readonly interval: Interval;
  readonly clustering: Clustering;
  /** Should lie, measured standing; and the other way round. */
  readonly standingInstead: number;
  readonly lyingInstead: number;
  /** Of the wrong ones, within one month of two years (or 1 cm of 87 cm). */
  readonly nearBoundary: number;
  /** Share that is wrong under the other rule, among children to whom it applies. */
  readonly otherRuleShare: number;
  /** Everyone was written down in one position although the rule asks for both. */
  readonly onePosition: boolean;
  /** Heights moved by 0.7 cm. */
  readonly converted: number;
  readonly teams: readonly GroupShare[];
}

/** True within one month of two years, or 1 cm of 87 cm, where a small slip in age or height decides. */
function isNearBoundary(rule: "age" | "height", ageDays: number, height: number): boolean {
  if (rule === "age") return Math.abs(ageDays - heightFromDays) <= daysPerMonth;
  return Math.abs(height - heightFromCentimetres) <= 1;
}

interface Marked {
  readonly inDomain: Uint8Array;
  readonly isWrong: Uint8Array;
  readonly counts: {
    n: number;
    wrong: number;
    standingInstead: number;
    lyingInstead: number;
    nearBoundary: number;
    wantLying: number;
    lying: number;
  };
}

function mark(children: Children, rule: "age" | "height"): Marked {
  const inDomain = new Uint8Array(children.count);
  const isWrong = new Uint8Array(children.count);
  const counts = { n: 0, wrong: 0, standingInstead: 0, lyingInstead: 0, nearBoundary: 0, wantLying: 0, lying: 0 };
  for (let i = 0; i < children.count; i++) {
    const height = children.height?.values[i] ?? Number.NaN;
    const age = children.ageDays[i] as number;
    const was = children.position?.[i] ?? 0;
    const wanted = positionBy(rule, age, height);
    if (was === 0 || wanted === 0 || Number.isNaN(height)) continue;
    inDomain[i] = 1;
    counts.n++;
    if (wanted === 1) counts.wantLying++;
    if (was === 1) counts.lying++;
    if (was === wanted) continue;
    isWrong[i] = 1;
    counts.wrong++;
    if (was === 2) counts.standingInstead++;
    else counts.lyingInstead++;
    if (isNearBoundary(rule, age, height)) counts.nearBoundary++;
  }
  return { inDomain, isWrong, counts };
}

function overallReading({ share, interval }: MeasuringPositionNumbers): Reading {
  const beyond = (limits: { readonly share: number; readonly low: number }) =>
    share > limits.share && interval.low > limits.low;
  if (beyond(shareLimits.doubt)) return "doubt";
  return beyond(shareLimits.explain) ? "explain" : "expected";
}

function judge(numbers: MeasuringPositionNumbers): Reading {
  return mostSerious([overallReading(numbers), readGroupsTogether(numbers.teams, numbers.n)]);
}

function drawn(numbers: MeasuringPositionNumbers, reading: Reading): DrawnShares {
  const teams = unusualLabels(numbers.teams);
  const { n, wrong, share, interval } = numbers;
  const none = Number.NaN;
  return {
    id: "measuring-position-teams",
    words: "checks.measuring-position.teams",
    unit: "share",
    overall: {
      of: numbers.of.looked,
      n,
      cases: wrong,
      share,
      interval,
      expected: none,
      chance: { low: none, high: none },
      probability: none,
    },
    reading,
    groups: numbers.teams,
    values: { count: teams.length, total: numbers.teams.length, teams, share },
  };
}

function tableOf(numbers: MeasuringPositionNumbers): Table {
  const row = (id: string, value: number) => [message(`checks.measuring-position.table.${id}`), value];
  return {
    id: "measuring-position",
    of: numbers.of.looked,
    caption: message("checks.measuring-position.table.caption"),
    columns: [
      { id: "what", label: message("checks.who.column.what"), unit: "text" },
      { id: "children", label: message("checks.who.column.children"), unit: "count" },
    ],
    rows: [
      row("measured", numbers.measured),
      row("recorded", numbers.recorded),
      row("looked-at", numbers.n),
      row("standing-instead", numbers.standingInstead),
      row("lying-instead", numbers.lyingInstead),
      row("near", numbers.nearBoundary),
      row("converted", numbers.converted),
    ],
  };
}

function countMeasured(children: Children): {
  readonly measured: number;
  readonly recorded: number;
  readonly converted: number;
} {
  let [measured, recorded, converted] = [0, 0, 0];
  for (let i = 0; i < children.count; i++) {
    const height = children.height?.values[i] ?? Number.NaN;
    if (Number.isNaN(height)) continue;
    measured++;
    if ((children.position?.[i] ?? 0) !== 0) recorded++;
    const standard = children.standardHeight[i] as number;
    if (!Number.isNaN(standard) && Math.abs(standard - height) > 0.35) converted++;
  }
  return { measured, recorded, converted };
}

export const measuringPosition: Check<MeasuringPositionNumbers> = {
  id: "measuring-position",
  section: "how",
  needs: ["height", "position"],
  sources: ["mgrs-length-height-2006", "dhs-position", "position-87-cm", "newcombe-1998", "benjamini-hochberg-1995"],

  compute({ children, settings, book }) {
    const rule = settings.positionRule;
    const { inDomain, isWrong, counts } = mark(children, rule);
    if (counts.n < fewestChildren)
      return { cannotTell: message("checks.who.too-few", { n: counts.n, least: fewestChildren }) };
    const clustering = clusteringOf(measurementDesign(children), isWrong, inDomain);
    const { counts: other, inDomain: others } = mark(children, rule === "age" ? "height" : "age");
    const subject = book.subject("position", inDomain);
    const measured = Uint8Array.from(children.height?.values ?? [], (height) => (Number.isNaN(height) ? 0 : 1));
    const counted = countGroups("team", children.team, isWrong, inDomain, subject);
    const groups = counted.map((group) => groupAgainstOthers(group, counted, clustering));
    const adjusted = adjustTogether([], [groups.map((group) => group.probability)]);
    return {
      of: {
        looked: subject.whole,
        measured: book.subject("position/recorded", measured).whole,
        other: book.subject("position/other-rule", others).whole,
      },
      rule,
      ...countMeasured(children),
      ...counts,
      share: counts.wrong / counts.n,
      interval: shareInterval(counts.wrong, counts.n, clustering.designEffect),
      clustering,
      otherRuleShare: other.n < fewestChildren ? Number.NaN : other.wrong / other.n,
      onePosition: (counts.lying === 0 || counts.lying === counts.n) && counts.wrong > 0,
      teams: readGroups(groups, adjusted.families[0] ?? [], (group) => group.share - group.expected, teamLimits),
    };
  },

  judge,

  quantities(numbers) {
    const { n, measured, of } = numbers;
    return [
      { id: "other-position", of: of.looked, unit: "share", value: numbers.share, n, interval: numbers.interval },
      { id: "position-recorded", of: of.measured, unit: "share", value: numbers.recorded / measured, n: measured },
      { id: "height-converted", of: of.measured, unit: "share", value: numbers.converted / measured, n: measured },
      ...(Number.isNaN(numbers.otherRuleShare)
        ? []
        : [{ id: "other-position-other-rule", of: of.other, unit: "share" as const, value: numbers.otherRuleShare }]),
      { id: "position-design-effect", of: of.looked, unit: "ratio", value: numbers.clustering.designEffect },
    ];
  },

  groups: (numbers) => toldOf(numbers.teams).map((team) => groupShareReading("other-position", team)),

  say(numbers, reading) {
    const teams = unusualLabels(numbers.teams);
    const unusual = reading !== "expected";
    const own = findingVariant(reading, overallReading(numbers));
    const otherFits = numbers.otherRuleShare < numbers.share / 2;
    const variant = !unusual ? own : numbers.onePosition ? "one-position" : own;
    const values = {
      share: numbers.share,
      wrong: numbers.wrong,
      n: numbers.n,
      low: numbers.interval.low,
      high: numbers.interval.high,
      rule: message(`checks.measuring-position.rule.${numbers.rule}`),
      standing: numbers.standingInstead,
      lying: numbers.lyingInstead,
      near: numbers.nearBoundary,
      converted: numbers.converted,
      teams,
      count: teams.length,
    };
    return {
      finding: message(`checks.measuring-position.finding.${variant}`, values),
      meaning: [
        message("checks.measuring-position.meaning.numbers", values),
        message(`checks.measuring-position.meaning.${unusual ? "unusual" : "expected"}`, values),
        ...(unusual && otherFits
          ? [message(`checks.measuring-position.meaning.other-rule-${numbers.rule}`, { share: numbers.otherRuleShare })]
          : []),
      ],
      causes: unusual
        ? ["age", "refused", "default"].map((cause) => message(`checks.measuring-position.cause.${cause}`))
        : [],
      actions: unusual ? ["ask", "rerun"].map((action) => message(`checks.measuring-position.action.${action}`)) : [],
      method: [
        message("checks.measuring-position.method.rule", { rule: values.rule }),
        message("checks.measuring-position.method.size", {
          explain: shareLimits.explain.share,
          explainLow: shareLimits.explain.low,
          doubt: shareLimits.doubt.share,
          doubtLow: shareLimits.doubt.low,
        }),
        ...(numbers.teams.length === 0
          ? []
          : [message("checks.measuring-position.method.teams", { count: numbers.teams.length })]),
      ],
    };
  },

  charts: (numbers, reading) => (numbers.teams.length === 0 ? [] : [shareChart(drawn(numbers, reading))]),
  tables: (numbers) => [
    tableOf(numbers),
    ...(numbers.teams.length === 0 ? [] : [shareTable(drawn(numbers, judge(numbers)))]),
  ],
};
