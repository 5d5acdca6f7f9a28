/** Values that are not there: a child without a height or an age falls out of the prevalence, and those who fall out may be the ill ones. */
import { message } from "../results/message.js";
import type { Chart, Interval, Reading, Table } from "../results/schema.js";
import type { Check } from "./check.js";
import { clusteringOf, measurementDesign } from "./clustering.js";
import { type GapDifference, gapDifferences } from "./gap-differences.js";
import { type Gaps, gapsByRole, lacksMeasure, lacksSomethingNeeded, readyByIndex } from "./gaps.js";
import { adjustTogether } from "./multiplicity.js";
import { fewestChildren, mostSerious, readDeparture, readGroupsTogether, type SizeLimits } from "./reading.js";
import { type DrawnShares, shareChart, shareTable, unusualLabels } from "./share-drawing.js";
import { countGroups, type GroupShare, groupAgainstOthers, groupReading, readGroups, shareInterval } from "./shares.js";

/**
 * Own judgement, no pass mark was found in print: more than 5 in 100 values missing need a reason, more than 15 in 100 can hide
 * a prevalence several points higher or lower. The lower end of the interval must lie above 2 and 5 in 100 as well, so that a
 * few children say nothing.
 */
const shareLimits = { explain: { share: 0.05, low: 0.02 }, doubt: { share: 0.15, low: 0.05 } } as const;
/** The same in a team over the other teams, and between the groups of children compared: own judgement. */
const differenceLimits: SizeLimits = { explain: 0.05, doubt: 0.15 };

interface CountedShare {
  readonly n: number;
  readonly cases: number;
  readonly share: number;
  readonly interval: Interval;
}

interface RoleGaps extends CountedShare {
  readonly role: string;
  /** False where the value is only one of several ways to know the same thing. */
  readonly needed: boolean;
  readonly reading: Reading;
}

interface ReadDifference extends GapDifference {
  readonly adjustedProbability: number;
  readonly reading: Reading;
}

export interface MissingValuesNumbers {
  readonly children: number;
  readonly roles: readonly RoleGaps[];
  /** Children who lack at least one value needed. */
  readonly any: CountedShare;
  /** Children with everything an index needs. */
  readonly ready: readonly (CountedShare & { readonly index: string })[];
  /** Whether children without a weight or height differ from the others. */
  readonly differences: readonly ReadDifference[];
  readonly teams: readonly GroupShare[];
}

function readShare({ share, interval }: CountedShare): Reading {
  const beyond = (limits: { readonly share: number; readonly low: number }) =>
    share > limits.share && interval.low > limits.low;
  if (beyond(shareLimits.doubt)) return "doubt";
  return beyond(shareLimits.explain) ? "explain" : "expected";
}

function overallReading(numbers: MissingValuesNumbers): Reading {
  return mostSerious([
    ...numbers.roles.filter(({ needed }) => needed).map(({ reading }) => reading),
    ...numbers.differences.map(({ reading }) => reading),
  ]);
}

function judge(numbers: MissingValuesNumbers): Reading {
  return mostSerious([overallReading(numbers), readGroupsTogether(numbers.teams, numbers.children)]);
}

/** The needed role with the largest share missing. */
function worstOf(numbers: MissingValuesNumbers): RoleGaps {
  const needed = numbers.roles.filter((role) => role.needed);
  return needed.reduce((worst, role) => (role.share > worst.share ? role : worst));
}

function variantOf(numbers: MissingValuesNumbers, reading: Reading): string {
  if (reading === "expected" || reading === "unknown") return reading;
  if (numbers.roles.some((role) => role.needed && role.reading === reading)) return reading;
  if (numbers.differences.some((difference) => difference.reading === reading)) return "differences";
  return "groups";
}

function chartOf(numbers: MissingValuesNumbers): Chart {
  const worst = worstOf(numbers);
  return {
    id: "missing-values",
    kind: "intervals",
    title: message("checks.missing-values.chart.title"),
    alternative: message("checks.missing-values.chart.alternative", {
      role: message(`checks.missing-values.role.${worst.role}`),
      share: worst.share,
      any: numbers.any.share,
    }),
    x: { label: message("checks.missing-values.chart.axis"), unit: "share" },
    lines: [],
    rows: numbers.roles.map(({ role, share, interval, n, reading, needed }) => ({
      label: message(`checks.missing-values.role.${role}`),
      value: share,
      low: interval.low,
      high: interval.high,
      n,
      ...(needed ? { reading } : {}),
    })),
  };
}

function tableOf(numbers: MissingValuesNumbers): Table {
  const column = (id: string, unit: Table["columns"][number]["unit"]) => ({
    id,
    label: message(`checks.missing-values.column.${id}`),
    unit,
  });
  return {
    id: "missing-values",
    caption: message("checks.missing-values.table.caption"),
    columns: [
      column("value", "text"),
      column("children", "count"),
      column("missing", "count"),
      column("share", "share"),
      column("low", "share"),
      column("high", "share"),
      column("reading", "reading"),
    ],
    rows: numbers.roles.map(({ role, n, cases, share, interval, reading, needed }) => [
      message(`checks.missing-values.role.${role}`),
      n,
      cases,
      share,
      interval.low,
      interval.high,
      needed ? reading : null,
    ]),
    notes: [message("checks.missing-values.table.note")],
  };
}

function readyTable(numbers: MissingValuesNumbers): Table {
  const column = (id: string, unit: Table["columns"][number]["unit"]) => ({
    id,
    label: message(`checks.missing-values.column.${id}`),
    unit,
  });
  return {
    id: "complete-for-index",
    caption: message("checks.missing-values.ready.caption"),
    columns: [
      column("index", "text"),
      column("children", "count"),
      column("complete", "count"),
      column("share-complete", "share"),
      column("low", "share"),
      column("high", "share"),
    ],
    rows: numbers.ready.map(({ index, n, cases, share, interval }) => [
      message(`index.${index}`),
      n,
      cases,
      share,
      interval.low,
      interval.high,
    ]),
  };
}

function drawn(numbers: MissingValuesNumbers, reading: Reading): DrawnShares {
  const teams = unusualLabels(numbers.teams);
  return {
    id: "missing-values-teams",
    words: "checks.missing-values.teams",
    unit: "share",
    overall: null,
    reading,
    groups: numbers.teams,
    values: { count: teams.length, total: numbers.teams.length, teams, share: numbers.any.share },
  };
}

export const missingValues: Check<MissingValuesNumbers> = {
  id: "missing-values",
  section: "who",
  needs: [],
  sources: ["newcombe-1998", "rao-scott-1984", "dhs-small-numbers", "benjamini-hochberg-1995", "holm-1979"],

  compute({ children }) {
    if (children.count < fewestChildren)
      return { cannotTell: message("checks.who.too-few", { n: children.count, least: fewestChildren }) };
    const design = measurementDesign(children);
    const counted = ({ isCase, inDomain }: Gaps): CountedShare => {
      const n = inDomain.reduce((sum, inside) => sum + inside, 0);
      const cases = isCase.reduce((sum, missing) => sum + missing, 0);
      return {
        n,
        cases,
        share: cases / n,
        interval: shareInterval(cases, n, clusteringOf(design, isCase, inDomain).designEffect),
      };
    };
    const roles = gapsByRole(children).flatMap(({ role, needed, gaps }) => {
      const share = counted(gaps);
      return share.n === 0 ? [] : [{ role, needed, ...share, reading: readShare(share) }];
    });
    const any = lacksSomethingNeeded(children);
    const differences = gapDifferences(children, lacksMeasure(children));
    const groups = countGroups("team", children.team, any.isCase, any.inDomain);
    const clustering = clusteringOf(design, any.isCase, any.inDomain);
    const teams = groups.map((group) => groupAgainstOthers(group, groups, clustering));
    const adjusted = adjustTogether(
      differences.map(({ probability }) => probability),
      [teams.map(({ probability }) => probability)],
    );
    return {
      children: children.count,
      roles,
      any: counted(any),
      ready: readyByIndex(children).flatMap(({ index, gaps }) => {
        const share = counted(gaps);
        return share.n === 0 ? [] : [{ index, ...share }];
      }),
      differences: differences.map((difference, i) => {
        const adjustedProbability = adjusted.overall[i] ?? Number.NaN;
        return {
          ...difference,
          adjustedProbability,
          reading: readDeparture(adjustedProbability, difference.size, differenceLimits),
        };
      }),
      teams: readGroups(teams, adjusted.families[0] ?? [], (team) => team.share - team.expected, differenceLimits),
    };
  },

  judge,

  quantities(numbers) {
    return [
      ...numbers.roles.map(({ role, share, n, interval }) => ({
        id: `missing-${role}`,
        unit: "share" as const,
        value: share,
        n,
        interval,
      })),
      { id: "missing-any", unit: "share", value: numbers.any.share, n: numbers.any.n, interval: numbers.any.interval },
      ...numbers.ready.map(({ index, share, n, interval }) => ({
        id: `complete-for-${index}`,
        unit: "share" as const,
        value: share,
        n,
        interval,
      })),
    ];
  },

  groups: (numbers) =>
    numbers.teams.map((team) =>
      groupReading(
        team,
        team.n === 0
          ? []
          : [{ id: "missing-any", unit: "share", value: team.share, n: team.n, interval: team.interval }],
      ),
    ),

  say(numbers, reading) {
    const worst = worstOf(numbers);
    const unusual = reading !== "expected";
    const teams = unusualLabels(numbers.teams);
    const differing = numbers.differences.filter(({ reading: own }) => own === "explain" || own === "doubt");
    const values = {
      role: message(`checks.missing-values.role.${worst.role}`),
      share: worst.share,
      cases: worst.cases,
      n: worst.n,
      low: worst.interval.low,
      high: worst.interval.high,
      any: numbers.any.share,
      anyCases: numbers.any.cases,
      children: numbers.children,
      by: differing.map(({ by }) => message(`checks.missing-values.by.${by}`)),
      teams,
      count: teams.length,
    };
    const tested = numbers.differences.length > 0;
    return {
      finding: message(`checks.missing-values.finding.${variantOf(numbers, reading)}`, values),
      meaning: [
        message("checks.missing-values.meaning.numbers", values),
        message(`checks.missing-values.meaning.${unusual ? "unusual" : "expected"}`),
        message(
          `checks.missing-values.meaning.${differing.length > 0 ? "differ" : tested ? "alike" : "not-compared"}`,
          values,
        ),
      ],
      causes: unusual
        ? ["absent", "form", "refused"].map((cause) => message(`checks.missing-values.cause.${cause}`))
        : [],
      actions: unusual ? ["forms", "bounds"].map((action) => message(`checks.missing-values.action.${action}`)) : [],
      method: [
        message("checks.missing-values.method.shares"),
        message("checks.missing-values.method.size", {
          explain: shareLimits.explain.share,
          explainLow: shareLimits.explain.low,
          doubt: shareLimits.doubt.share,
          doubtLow: shareLimits.doubt.low,
        }),
        ...(tested ? [message("checks.missing-values.method.differences")] : []),
        ...(numbers.teams.length === 0
          ? []
          : [message("checks.missing-values.method.teams", { count: numbers.teams.length })]),
      ],
    };
  },

  charts: (numbers, reading) => [
    chartOf(numbers),
    ...(numbers.teams.length === 0 ? [] : [shareChart(drawn(numbers, reading))]),
  ],
  tables: (numbers) => [
    tableOf(numbers),
    readyTable(numbers),
    ...(numbers.teams.length === 0 ? [] : [shareTable(drawn(numbers, judge(numbers)))]),
  ],
};
