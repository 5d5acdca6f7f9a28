/** z-scores no living child is likely to have: mostly slips in measuring, writing or age, and the surest sign of carelessness in the tails. */
import { type Children, type IndexId, indexIds } from "../derive/children.js";
import { fixedLimits } from "../derive/exclusions.js";
import { message } from "../results/message.js";
import type { Interval, Quantity, Reading, Table } from "../results/schema.js";
import { betaCumulative } from "../stats/beta.js";
import { clopperPearson } from "../stats/binomial.js";
import { normalCumulative, normalUpper } from "../stats/normal.js";
import { poissonQuantile } from "../stats/poisson.js";
import type { Check, RowToCheck } from "./check.js";
import { clusteringOf, measurementDesign } from "./clustering.js";
import { adjustTogether } from "./multiplicity.js";
import { fewestChildren, mostSerious, readDeparture, readGroupsTogether, type SizeLimits } from "./reading.js";
import { type DrawnShares, findingVariant, shareChart, shareTable, unusualLabels } from "./share-drawing.js";
import { countGroups, type GroupShare, groupReading, readGroups, shareInterval } from "./shares.js";

/**
 * More than 1 in 100 outside the fixed limits is widely taken as a sign of poor data: given from memory of the 1995
 * technical report and the 2019 recommendations of WHO and UNICEF, not read there. Own judgement: above 5 in 100 the
 * tails, and so the severe forms, cannot be trusted.
 */
const sizeLimits: SizeLimits = { explain: 0.01, doubt: 0.05 };
/** A chance below one in ten thousand is said in words. */
const smallestPrinted = 0.0001;
/** One child alone never makes a finding. */
const fewestOutside = 2;

interface IndexOutside {
  readonly index: IndexId;
  readonly n: number;
  readonly outside: number;
  readonly share: number;
  readonly interval: Interval;
  /** Share outside if z-scores were normal with the survey's own mean and a standard deviation of 1. */
  readonly expected: number;
  /** Largest share that 95 in 100 such surveys stay within. */
  readonly chanceHigh: number;
  /** P(this many or more) under that. */
  readonly probability: number;
  readonly adjustedProbability: number;
  readonly reading: Reading;
  readonly outsideAroundMean: number;
  readonly expectedAroundMean: number;
}

export interface ImplausibleNumbers {
  readonly indices: readonly IndexOutside[];
  /** Half-width of the limits around the mean. */
  readonly width: number;
  /** Children with a score, and those with at least one outside the fixed limits. */
  readonly scored: number;
  readonly anyOutside: number;
  readonly teams: readonly GroupShare[];
}

/** P(X >= cases) for X binomial; neither number needs to be whole, so that counts can be cut by a design effect. */
function binomialUpper(cases: number, n: number, share: number): number {
  return cases <= 0 ? 1 : betaCumulative(share, cases, n - cases + 1);
}

function outsideOf(children: Children, index: IndexId, width: number): IndexOutside | null {
  const { z, outsideFixed, outsideAroundMean, centre } = children.indices[index];
  const limits = fixedLimits[index];
  let [n, outside, around] = [0, 0, 0];
  z.forEach((score, i) => {
    if (Number.isNaN(score)) return;
    n++;
    outside += outsideFixed[i] as number;
    if (outsideFixed[i] === 0) around += outsideAroundMean[i] as number;
  });
  if (n < fewestChildren) return null;
  // With every score outside there is no mean to go by: the standard's own, 0.
  const mean = Number.isNaN(centre) ? 0 : centre;
  const expected = normalCumulative(limits.low - mean) + normalUpper(limits.high - mean);
  const { low, high, level } = clopperPearson(outside, n);
  return {
    index,
    n,
    outside,
    share: outside / n,
    interval: { low, high, level },
    expected,
    chanceHigh: poissonQuantile(0.95, n * expected) / n,
    probability: binomialUpper(outside, n, expected),
    adjustedProbability: Number.NaN,
    reading: "unknown",
    outsideAroundMean: around,
    expectedAroundMean: 2 * normalUpper(width),
  };
}

function teamsOf(children: Children, expected: number): Omit<GroupShare, "adjustedProbability" | "reading">[] {
  const { inDomain, isOutside } = markAny(children);
  const { designEffect } = clusteringOf(measurementDesign(children), isOutside, inDomain);
  const line = Math.max(expected, sizeLimits.explain);
  return countGroups("team", children.team, isOutside, inDomain).map((group) => ({
    ...group,
    share: group.n === 0 ? Number.NaN : group.cases / group.n,
    interval: shareInterval(group.cases, group.n, designEffect),
    expected,
    chance: { low: 0, high: poissonQuantile(0.95, group.n * line) / group.n },
    probability:
      group.n < fewestChildren ? Number.NaN : binomialUpper(group.cases / designEffect, group.n / designEffect, line),
  }));
}

function markAny(children: Children): { readonly inDomain: Uint8Array; readonly isOutside: Uint8Array } {
  const inDomain = new Uint8Array(children.count);
  const isOutside = new Uint8Array(children.count);
  for (const id of indexIds) {
    const { z, outsideFixed } = children.indices[id];
    for (let i = 0; i < children.count; i++) {
      if (Number.isNaN(z[i])) continue;
      inDomain[i] = 1;
      if (outsideFixed[i] === 1) isOutside[i] = 1;
    }
  }
  return { inDomain, isOutside };
}

function overallReading(numbers: ImplausibleNumbers): Reading {
  return mostSerious(numbers.indices.map(({ reading }) => reading));
}

function judge(numbers: ImplausibleNumbers): Reading {
  return mostSerious([overallReading(numbers), readGroupsTogether(numbers.teams, numbers.scored)]);
}

/** The index with the largest share outside. */
function worstOf(numbers: ImplausibleNumbers): IndexOutside {
  return numbers.indices.reduce((worst, own) => (own.share > worst.share ? own : worst));
}

function drawn(numbers: ImplausibleNumbers, reading: Reading): DrawnShares {
  const teams = unusualLabels(numbers.teams);
  return {
    id: "implausible-values-teams",
    words: "checks.implausible-values.teams",
    unit: "share",
    overall: null,
    reading,
    groups: numbers.teams,
    values: { count: teams.length, total: numbers.teams.length, teams, share: numbers.anyOutside / numbers.scored },
    line: sizeLimits.explain,
  };
}

function tableOf(numbers: ImplausibleNumbers): Table {
  const column = (id: string, unit: Table["columns"][number]["unit"]) => ({
    id,
    label: message(`checks.implausible-values.column.${id}`),
    unit,
  });
  return {
    id: "implausible-values",
    caption: message("checks.implausible-values.table.caption"),
    columns: [
      column("index", "text"),
      column("children", "count"),
      column("outside", "count"),
      column("share", "share"),
      column("low", "share"),
      column("high", "share"),
      column("expected", "share"),
      column("around-mean", "count"),
      column("reading", "reading"),
    ],
    rows: numbers.indices.map((own) => [
      message(`index.${own.index}`),
      own.n,
      own.outside,
      own.share,
      own.interval.low,
      own.interval.high,
      own.expected,
      own.outsideAroundMean,
      own.reading,
    ]),
    notes: [message("checks.implausible-values.table.note", { width: numbers.width })],
  };
}

/** Columns of the file that an index rests on. */
function columnsOf(children: Children, index: IndexId): string {
  const { weight, height, arm, head } = children;
  const used = {
    "weight-for-height": [weight, height],
    "height-for-age": [height],
    "weight-for-age": [weight],
    "bmi-for-age": [weight, height],
    "arm-for-age": [arm],
    "head-for-age": [head],
  }[index];
  return used.flatMap((column) => (column === null ? [] : [column.name])).join(", ");
}

function rowsOf(children: Children): RowToCheck[] {
  const { weight, height, arm, head } = children;
  return indexIds.flatMap((index) => {
    const { z, outsideFixed } = children.indices[index];
    const used = {
      "weight-for-height": [weight, height],
      "height-for-age": [height],
      "weight-for-age": [weight],
      "bmi-for-age": [weight, height],
      "arm-for-age": [arm],
      "head-for-age": [head],
    }[index];
    const rows: RowToCheck[] = [];
    z.forEach((score, i) => {
      if (outsideFixed[i] !== 1 || Number.isNaN(score)) return;
      const value = used.flatMap((column) => (column === null ? [] : [String(column.values[i])])).join(", ");
      rows.push({
        sheetRow: children.sheetRow[i] as number,
        column: columnsOf(children, index),
        value,
        message: message("checks.implausible-values.row", { index: message(`index.${index}`), z: score }),
      });
    });
    return rows;
  });
}

export const implausibleValues: Check<ImplausibleNumbers> = {
  id: "implausible-values",
  section: "what",
  needs: ["any-index"],
  sources: [
    "who-2006",
    "dhs-mr33",
    "who-1995",
    "who-unicef-2019",
    "crowe-2014",
    "clopper-pearson-1934",
    "holm-1979",
    "benjamini-hochberg-1995",
  ],

  compute({ children, settings }) {
    const width = settings.exclusions.widthAroundMean;
    const indices = indexIds.flatMap((id) => outsideOf(children, id, width) ?? []);
    const { inDomain, isOutside } = markAny(children);
    const scored = inDomain.reduce((sum, inside) => sum + inside, 0);
    if (indices.length === 0)
      return { cannotTell: message("checks.who.too-few", { n: scored, least: fewestChildren }) };
    const teams = teamsOf(
      children,
      Math.min(
        0.5,
        indices.reduce((sum, own) => sum + own.expected, 0),
      ),
    );
    const adjusted = adjustTogether(
      indices.map((own) => own.probability),
      [teams.map((team) => team.probability)],
    );
    return {
      indices: indices.map((own, i) => {
        const adjustedProbability = adjusted.overall[i] ?? Number.NaN;
        const size = own.outside < fewestOutside || own.share <= sizeLimits.explain ? 0 : own.share;
        return { ...own, adjustedProbability, reading: readDeparture(adjustedProbability, size, sizeLimits) };
      }),
      width,
      scored,
      anyOutside: isOutside.reduce((sum, outside) => sum + outside, 0),
      teams: readGroups(
        teams,
        adjusted.families[0] ?? [],
        (team) => (team.cases < fewestOutside ? 0 : team.share),
        sizeLimits,
      ),
    };
  },

  judge,

  quantities(numbers) {
    return numbers.indices.flatMap((own): Quantity[] => [
      {
        id: `outside-fixed-${own.index}`,
        unit: "share",
        value: own.share,
        n: own.n,
        interval: own.interval,
        chance: { expected: own.expected, low: 0, high: own.chanceHigh },
        probability: own.probability,
      },
      {
        id: `outside-around-mean-${own.index}`,
        unit: "share",
        value: own.outsideAroundMean / own.n,
        n: own.n,
        chance: { expected: own.expectedAroundMean },
      },
    ]);
  },

  groups: (numbers) =>
    numbers.teams.map((team) =>
      groupReading(
        team,
        team.n === 0
          ? []
          : [
              {
                id: "any-outside-fixed",
                unit: "share",
                value: team.share,
                n: team.n,
                interval: team.interval,
                chance: { expected: team.expected, ...team.chance },
              },
            ],
      ),
    ),

  say(numbers, reading) {
    const worst = worstOf(numbers);
    const teams = unusualLabels(numbers.teams);
    const unusual = reading !== "expected";
    const values = {
      index: message(`index.${worst.index}`),
      share: worst.share,
      outside: worst.outside,
      n: worst.n,
      low: worst.interval.low,
      high: worst.interval.high,
      chance: message(
        `checks.implausible-values.chance.${worst.expected < smallestPrinted ? "next-to-none" : "share"}`,
        {
          expected: worst.expected,
        },
      ),
      any: numbers.anyOutside,
      scored: numbers.scored,
      teams,
      count: teams.length,
    };
    return {
      finding: message(`checks.implausible-values.finding.${findingVariant(reading, overallReading(numbers))}`, values),
      meaning: [
        message("checks.implausible-values.meaning.numbers", values),
        message(`checks.implausible-values.meaning.${unusual ? "unusual" : "expected"}`, values),
        ...(teams.length === 0 ? [] : [message("checks.implausible-values.meaning.teams", values)]),
      ],
      causes: unusual
        ? ["slips", "age", "extreme"].map((cause) => message(`checks.implausible-values.cause.${cause}`))
        : [],
      actions: [
        ...(numbers.anyOutside > 0 ? [message("checks.implausible-values.action.rows", values)] : []),
        ...(unusual ? [message("checks.implausible-values.action.rules")] : []),
      ],
      method: [
        message("checks.implausible-values.method.limits"),
        message("checks.implausible-values.method.chance"),
        message("checks.implausible-values.method.line", { explain: sizeLimits.explain, doubt: sizeLimits.doubt }),
        message("checks.implausible-values.method.around-mean", {
          width: numbers.width,
          expected: numbers.indices[0]?.expectedAroundMean ?? 0,
        }),
      ],
    };
  },

  charts: (numbers, reading) => (numbers.teams.length === 0 ? [] : [shareChart(drawn(numbers, reading))]),
  tables: (numbers) => [
    tableOf(numbers),
    ...(numbers.teams.length === 0 ? [] : [shareTable(drawn(numbers, judge(numbers)))]),
  ],
  rows: (_numbers, { children }) => rowsOf(children),
};
