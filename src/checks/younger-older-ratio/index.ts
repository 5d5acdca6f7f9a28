/** Children of 6-29 months for each of 30-59: the two halves of the usual age range, where missed or mis-aged children show. */

import type { GroupId } from "../../results/group.js";
import { message } from "../../results/message.js";
import { isConcern } from "../../results/reading.js";
import type { Reading } from "../../results/schema.js";
import type { Check } from "../check.js";
import { type Clustering, clusteringOf, measurementDesign } from "../shared/clustering.js";
import { type AgeExpectation, expectedChildren } from "../shared/expected-ages.js";
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
 * Own judgement, no published pass mark: how far the ratio is from the expected one, as a share of it. Births that grow
 * by 0 or by 3% a year move the expectation between 0.80 and 0.86, 7% (computed with expected-ages.ts), so that much
 * may be the population itself; twice as much needs a reason. At 40% every sixth child or so stands on the wrong side, and
 * prevalences that change with age move with it.
 */
const sizeLimits: SizeLimits = { explain: 0.15, doubt: 0.4 };
/** How far the growth of births may be from what the settings say: one point in a hundred a year, own judgement, shown as a band. */
const growthDoubt = 0.01;

export interface YoungerOlderNumbers {
  /** The children of 6-59 months. */
  readonly of: GroupId;
  readonly younger: number;
  readonly older: number;
  readonly expectation: AgeExpectation;
  readonly expectedRatio: number;
  /** Expected ratio with births growing by one point less and one point more a year. */
  readonly band: { readonly low: number; readonly high: number };
  readonly clustering: Clustering;
  /** Share of the younger among children of 6-59 months. */
  readonly share: ShareAgainst;
  readonly adjustedProbability: number;
  readonly teams: readonly GroupShare[];
}

/** Expected children of 6-29 months for each of 30-59 months. */
export function expectedRatioOf(expectation: AgeExpectation): number {
  return expectedChildren(6, 30, expectation) / expectedChildren(30, 60, expectation);
}

/** Departure of the ratio as a share of what was expected; infinite where there are no older children. */
function sizeOf(tested: ShareAgainst): number {
  return Math.abs(oneToOther(tested.share) / oneToOther(tested.expected) - 1);
}

function overallReading(numbers: YoungerOlderNumbers): Reading {
  return readDeparture(numbers.adjustedProbability, sizeOf(numbers.share), sizeLimits);
}

function judge(numbers: YoungerOlderNumbers): Reading {
  return mostSerious([overallReading(numbers), readGroupsTogether(numbers.teams, numbers.share.n)]);
}

function drawn(numbers: YoungerOlderNumbers, reading: Reading): DrawnShares {
  const teams = unusualLabels(numbers.teams);
  return {
    id: "younger-older-ratio-teams",
    words: "checks.younger-older-ratio.teams",
    unit: "ratio",
    show: oneToOther,
    overall: { ...numbers.share, of: numbers.of },
    reading,
    groups: numbers.teams,
    values: {
      count: teams.length,
      total: numbers.teams.length,
      teams,
      share: numbers.share.share,
      expected: numbers.share.expected,
    },
    line: numbers.expectedRatio,
    band: numbers.band,
  };
}

export const youngerOlderRatio: Check<YoungerOlderNumbers> = {
  id: "younger-older-ratio",
  section: "who",
  needs: ["age"],
  sources: ["stable-population", "benjamini-hochberg-1995", "holm-1979", "newcombe-1998", "dhs-small-numbers"],

  compute({ children, settings, book }) {
    const { from, to } = settings.ageRange;
    if (from > 6 || to < 59)
      return { cannotTell: message("checks.younger-older-ratio.cannot-tell.range", { from, to }) };
    const inDomain = Uint8Array.from(children.ageMonths, (months) => (months >= 6 && months < 60 ? 1 : 0));
    const isYounger = Uint8Array.from(children.ageMonths, (months) => (months >= 6 && months < 30 ? 1 : 0));
    const n = inDomain.reduce((sum, inside) => sum + inside, 0);
    if (n < fewestChildren) return { cannotTell: message("checks.who.too-few", { n, least: fewestChildren }) };
    const younger = isYounger.reduce((sum, is) => sum + is, 0);
    const { underFiveMortality, growthOfBirths } = settings.expectations;
    const expectation = { underFiveMortality, growthOfBirths };
    const expectedRatio = expectedRatioOf(expectation);
    const expected = expectedRatio / (1 + expectedRatio);
    const clustering = clusteringOf(measurementDesign(children), isYounger, inDomain);
    const share = shareAgainst(younger, n, expected, clustering);
    const subject = book.subject("age/younger", inDomain);
    const groups = countGroups("team", children.team, isYounger, inDomain, subject).map((group) =>
      groupAgainst(group, expected, clustering),
    );
    const adjusted = adjustTogether([share.probability], [groups.map((group) => group.probability)]);
    return {
      of: subject.whole,
      younger,
      older: n - younger,
      expectation,
      expectedRatio,
      band: {
        low: expectedRatioOf({ ...expectation, growthOfBirths: growthOfBirths - growthDoubt }),
        high: expectedRatioOf({ ...expectation, growthOfBirths: growthOfBirths + growthDoubt }),
      },
      clustering,
      share,
      adjustedProbability: adjusted.overall[0] ?? Number.NaN,
      teams: readGroups(groups, adjusted.families[0] ?? [], sizeOf, sizeLimits),
    };
  },

  judge,

  quantities(numbers) {
    const { share, of, expectedRatio } = numbers;
    const noOlder = message("checks.younger-older-ratio.no-older");
    return [
      ratioQuantity("younger-per-older", share, of, { expectedRatio, noOther: noOlder }),
      { id: "children-6-29", of, unit: "count", value: numbers.younger },
      { id: "children-30-59", of, unit: "count", value: numbers.older },
      { id: "younger-older-design-effect", of, unit: "ratio", value: numbers.clustering.designEffect },
    ];
  },

  groups: (numbers) =>
    toldOf(numbers.teams).map((team) => groupReading(team, [shareQuantity("share-younger", team, team.of)])),

  say(numbers, reading) {
    const { share, younger, older, expectedRatio, expectation } = numbers;
    const teams = unusualLabels(numbers.teams);
    const own = findingVariant(reading, overallReading(numbers));
    const more = share.share > share.expected ? "younger" : "older";
    const variant = younger === 0 || older === 0 ? "one-side" : isConcern(own) ? `${own}-${more}` : own;
    const ratio = older === 0 ? 0 : younger / older;
    const values = { ratio, younger, older, n: share.n, expected: expectedRatio, teams, count: teams.length };
    const unusual = reading !== "expected";
    const numbersSaid = {
      share: share.share,
      low: share.interval.low,
      high: share.interval.high,
      expected: share.expected,
      chanceLow: share.chance.low,
      chanceHigh: share.chance.high,
    };
    return {
      finding: message(`checks.younger-older-ratio.finding.${variant}`, values),
      meaning: [
        message("checks.younger-older-ratio.meaning.numbers", numbersSaid),
        message(`checks.younger-older-ratio.meaning.${unusual ? "unusual" : "expected"}`, values),
        ...(teams.length === 0 ? [] : [message("checks.younger-older-ratio.meaning.teams", values)]),
      ],
      causes: unusual
        ? ["births", "moved", "ages", "absent"].map((cause) => message(`checks.younger-older-ratio.cause.${cause}`))
        : [],
      actions: unusual
        ? ["compare", "ages"].map((action) => message(`checks.younger-older-ratio.action.${action}`, values))
        : [],
      method: [
        message("checks.younger-older-ratio.method.model", {
          ...expectation,
          expected: expectedRatio,
          bandLow: numbers.band.low,
          bandHigh: numbers.band.high,
        }),
        message("checks.younger-older-ratio.method.convention"),
        message("checks.younger-older-ratio.method.test", {
          designEffect: numbers.clustering.designEffect,
          explain: sizeLimits.explain,
          doubt: sizeLimits.doubt,
        }),
      ],
    };
  },

  charts: (numbers, reading) => [shareChart(drawn(numbers, reading))],
  tables: (numbers) => [shareTable(drawn(numbers, judge(numbers)))],
};
