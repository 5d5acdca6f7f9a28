/** Values that are not there: a child without a height or an age falls out of the prevalence, and those who fall out may be the ill ones. */

import { message } from "../../results/message.js";
import { isConcern } from "../../results/reading.js";
import type { Reading } from "../../results/schema.js";
import type { Check } from "../check.js";
import { clusteringOf, measurementDesign } from "../shared/clustering.js";
import { adjustTogether } from "../shared/multiplicity.js";
import { fewestChildren, readDeparture } from "../shared/reading.js";
import { shareChart, shareTable, unusualLabels } from "../shared/share-drawing.js";
import { countGroups, groupAgainstOthers, groupShareReading, readGroups, shareInterval } from "../shared/shares.js";
import { toldOf } from "../shared/told.js";
import { chartOf, drawn, readyTable, tableOf } from "./drawing.js";
import { gapDifferences } from "./gap-differences.js";
import { type Gaps, gapsByRole, lacksMeasure, lacksSomethingNeeded, readyByIndex } from "./gaps.js";
import {
  type CountedShare,
  differenceLimits,
  judge,
  type MissingValuesNumbers,
  readShare,
  setAsideIn,
  shareLimits,
  worstOf,
} from "./readings.js";

function variantOf(numbers: MissingValuesNumbers, reading: Reading): string {
  if (reading === "expected" || reading === "unknown") return reading;
  if (numbers.roles.some((role) => role.needed && role.reading === reading)) return reading;
  if (numbers.differences.some((difference) => difference.reading === reading)) return "differences";
  return "groups";
}

export const missingValues: Check<MissingValuesNumbers> = {
  id: "missing-values",
  section: "who",
  needs: [],
  sources: ["newcombe-1998", "rao-scott-1984", "dhs-small-numbers", "benjamini-hochberg-1995", "holm-1979"],

  compute({ children, book }) {
    if (children.count < fewestChildren)
      return { cannotTell: message("checks.who.too-few", { n: children.count, least: fewestChildren }) };
    const design = measurementDesign(children);
    const counted = (what: string, { isCase, inDomain }: Gaps): CountedShare => {
      const n = inDomain.reduce((sum, inside) => sum + inside, 0);
      const cases = isCase.reduce((sum, missing) => sum + missing, 0);
      return {
        of: book.subject(`missing/${what}`, inDomain).whole,
        n,
        cases,
        share: cases / n,
        interval: shareInterval(cases, n, clusteringOf(design, isCase, inDomain).designEffect),
      };
    };
    const roles = gapsByRole(children).flatMap(({ role, needed, gaps, setAside }) => {
      const share = counted(role, gaps);
      return share.n === 0 ? [] : [{ role, needed, setAside, ...share, reading: readShare(share) }];
    });
    const any = lacksSomethingNeeded(children);
    const differences = gapDifferences(children, lacksMeasure(children));
    const groups = countGroups(
      "team",
      children.team,
      any.isCase,
      any.inDomain,
      book.subject("missing/any", any.inDomain),
    );
    const clustering = clusteringOf(design, any.isCase, any.inDomain);
    const teams = groups.map((group) => groupAgainstOthers(group, groups, clustering));
    const adjusted = adjustTogether(
      differences.map(({ probability }) => probability),
      [teams.map(({ probability }) => probability)],
    );
    return {
      children: children.count,
      roles,
      any: counted("any", any),
      ready: readyByIndex(children).flatMap(({ index, gaps }) => {
        const share = counted(index, gaps);
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
      ...numbers.roles.map(({ role, share, n, interval, of }) => ({
        id: `missing-${role}`,
        of,
        unit: "share" as const,
        value: share,
        n,
        interval,
      })),
      {
        id: "missing-any",
        of: numbers.any.of,
        unit: "share",
        value: numbers.any.share,
        n: numbers.any.n,
        interval: numbers.any.interval,
      },
      ...numbers.ready.map(({ index, share, n, interval, of }) => ({
        id: `complete-for-${index}`,
        of,
        unit: "share" as const,
        value: share,
        n,
        interval,
      })),
    ];
  },

  groups: (numbers) => toldOf(numbers.teams).map((team) => groupShareReading("missing-any", team)),

  say(numbers, reading) {
    const worst = worstOf(numbers);
    const unusual = reading !== "expected";
    const teams = unusualLabels(numbers.teams);
    const differing = numbers.differences.filter(({ reading: own }) => isConcern(own));
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
    const setAside = numbers.roles
      .filter((role) => role.setAside > 0)
      .map(({ role, setAside: count }) =>
        message("checks.missing-values.set-aside.role", { role: message(`checks.missing-values.role.${role}`), count }),
      );
    const tested = numbers.differences.length > 0;
    return {
      finding: message(`checks.missing-values.finding.${variantOf(numbers, reading)}`, values),
      meaning: [
        message("checks.missing-values.meaning.numbers", values),
        ...(setAside.length === 0
          ? []
          : [message("checks.missing-values.meaning.set-aside", { roles: setAside, count: setAsideIn(numbers) })]),
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
