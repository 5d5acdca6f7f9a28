/** Boys and girls: a survey that counts many more of one than the population has may have missed children when listing. */

import type { GroupId } from "../../results/group.js";
import { message } from "../../results/message.js";
import type { Reading } from "../../results/schema.js";
import type { Check } from "../check.js";
import { type Clustering, clusteringOf, measurementDesign } from "../shared/clustering.js";
import { adjustTogether } from "../shared/multiplicity.js";
import { fewestChildren, mostSerious, readDeparture, readGroupsTogether, type SizeLimits } from "../shared/reading.js";
import { type DrawnShares, findingVariant, shareChart, shareTable, unusualLabels } from "../shared/share-drawing.js";
import {
  countGroups,
  type GroupShare,
  groupAgainst,
  groupReading,
  oneToOther,
  ratioQuantity,
  readGroups,
  type ShareAgainst,
  shareAgainst,
  shareQuantity,
} from "../shared/shares.js";
import { toldOf } from "../shared/told.js";

/**
 * Own judgement, no published pass mark: the share of boys away from the expected one. Three points in a hundred (a
 * ratio of 1.18 where 1.05 is expected) deserve a question; eight points (1.44) are more than any usual population
 * has and begin to weigh on estimates wherever boys and girls differ.
 */
const sizeLimits: SizeLimits = { explain: 0.03, doubt: 0.08 };

export interface SexBalanceNumbers {
  /** The children of known sex. */
  readonly of: GroupId;
  readonly boys: number;
  readonly girls: number;
  readonly sexUnknown: number;
  /** Boys per girl expected, from the settings. */
  readonly expectedRatio: number;
  readonly clustering: Clustering;
  /** Share of boys among children of known sex. */
  readonly share: ShareAgainst;
  readonly adjustedProbability: number;
  readonly teams: readonly GroupShare[];
}

function overallReading(numbers: SexBalanceNumbers): Reading {
  return readDeparture(numbers.adjustedProbability, Math.abs(numbers.share.share - numbers.share.expected), sizeLimits);
}

function judge(numbers: SexBalanceNumbers): Reading {
  return mostSerious([overallReading(numbers), readGroupsTogether(numbers.teams, numbers.share.n)]);
}

function drawn(numbers: SexBalanceNumbers, reading: Reading): DrawnShares {
  return {
    id: "sex-balance-teams",
    words: "checks.sex-balance.teams",
    unit: "ratio",
    show: oneToOther,
    overall: { ...numbers.share, of: numbers.of },
    reading,
    groups: numbers.teams,
    values: {
      count: unusualLabels(numbers.teams).length,
      total: numbers.teams.length,
      teams: unusualLabels(numbers.teams),
    },
    line: numbers.expectedRatio,
  };
}

export const sexBalance: Check<SexBalanceNumbers> = {
  id: "sex-balance",
  section: "who",
  needs: ["sex"],
  sources: [
    "iussp-sex-ratio",
    "alkema-2014",
    "benjamini-hochberg-1995",
    "holm-1979",
    "newcombe-1998",
    "dhs-small-numbers",
  ],

  compute({ children, settings, book }) {
    const inDomain = Uint8Array.from(children.sex, (code) => (code === 0 ? 0 : 1));
    const isBoy = Uint8Array.from(children.sex, (code) => (code === 1 ? 1 : 0));
    const n = inDomain.reduce((sum, inside) => sum + inside, 0);
    if (n < fewestChildren) return { cannotTell: message("checks.who.too-few", { n, least: fewestChildren }) };
    const boys = isBoy.reduce((sum, boy) => sum + boy, 0);
    const expectedRatio = settings.expectations.boysPerGirl;
    const expected = expectedRatio / (1 + expectedRatio);
    const clustering = clusteringOf(measurementDesign(children), isBoy, inDomain);
    const subject = book.subject("sex", inDomain);
    const share = shareAgainst(boys, n, expected, clustering);
    const groups = countGroups("team", children.team, isBoy, inDomain, subject).map((group) =>
      groupAgainst(group, expected, clustering),
    );
    const adjusted = adjustTogether([share.probability], [groups.map((group) => group.probability)]);
    return {
      of: subject.whole,
      boys,
      girls: n - boys,
      sexUnknown: children.count - n,
      expectedRatio,
      clustering,
      share,
      adjustedProbability: adjusted.overall[0] ?? Number.NaN,
      teams: readGroups(groups, adjusted.families[0] ?? [], (group) => Math.abs(group.share - expected), sizeLimits),
    };
  },

  judge,

  quantities(numbers) {
    const { share, of, expectedRatio } = numbers;
    const noGirl = message("checks.sex-balance.no-girl");
    return [
      ratioQuantity("boys-per-girl", share, of, { expectedRatio, noOther: noGirl }),
      shareQuantity("share-of-boys", share, of),
      { id: "boys", of, unit: "count", value: numbers.boys },
      { id: "girls", of, unit: "count", value: numbers.girls },
      { id: "sex-balance-design-effect", of, unit: "ratio", value: numbers.clustering.designEffect },
    ];
  },

  groups: (numbers) =>
    toldOf(numbers.teams).map((team) => groupReading(team, [shareQuantity("share-of-boys", team, team.of)])),

  say(numbers, reading) {
    const { share, expectedRatio, boys, girls } = numbers;
    const teams = unusualLabels(numbers.teams);
    const variant = girls === 0 || boys === 0 ? "one-sex" : findingVariant(reading, overallReading(numbers));
    const ratio = girls === 0 ? 0 : boys / girls;
    const values = {
      ratio,
      boys,
      girls,
      n: share.n,
      share: share.share,
      expected: expectedRatio,
      teams,
      count: teams.length,
    };
    const unusual = reading !== "expected";
    const shareValues = {
      share: share.share,
      low: share.interval.low,
      high: share.interval.high,
      expected: share.expected,
      chanceLow: share.chance.low,
      chanceHigh: share.chance.high,
    };
    return {
      finding: message(`checks.sex-balance.finding.${variant}`, values),
      meaning: [
        message("checks.sex-balance.meaning.numbers", shareValues),
        message(unusual ? "checks.sex-balance.meaning.unusual" : "checks.sex-balance.meaning.expected", values),
        ...(teams.length === 0 ? [] : [message("checks.sex-balance.meaning.teams", values)]),
      ],
      causes: unusual
        ? [
            ...(share.share === 0 || share.share === 1 ? [message("checks.sex-balance.cause.design")] : []),
            message("checks.sex-balance.cause.population"),
            message("checks.sex-balance.cause.listing"),
            message("checks.sex-balance.cause.coding"),
          ]
        : [],
      actions: unusual
        ? [message("checks.sex-balance.action.listing", values), message("checks.sex-balance.action.census", values)]
        : [],
      method: [
        message("checks.sex-balance.method.test", {
          expected: expectedRatio,
          designEffect: numbers.clustering.designEffect,
        }),
        message("checks.sex-balance.method.size", {
          explain: sizeLimits.explain,
          doubt: sizeLimits.doubt,
          least: fewestChildren,
        }),
      ],
    };
  },

  charts: (numbers, reading) => (numbers.teams.length === 0 ? [] : [shareChart(drawn(numbers, reading))]),
  tables: (numbers) => (numbers.teams.length === 0 ? [] : [shareTable(drawn(numbers, judge(numbers)))]),
};
