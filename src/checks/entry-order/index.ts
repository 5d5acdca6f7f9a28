/** When forms were filled in: too soon after each other, at night or on another day, the times are not those of careful measuring, or not of measuring at all. */

import { isSentTime } from "../../columns/column-names.js";
import { message } from "../../results/message.js";
import { isConcern, severity } from "../../results/reading.js";
import type { Message, Reading } from "../../results/schema.js";
import type { SurveySettings } from "../../settings/settings.js";
import type { Check, CheckInput, RowToCheck } from "../check.js";
import { clusteringOf, measurementDesign } from "../shared/clustering.js";
import { adjustTogether } from "../shared/multiplicity.js";
import { fewestChildren } from "../shared/reading.js";
import { shareChart, shareTable, unusualLabels } from "../shared/share-drawing.js";
import { countGroups, groupAgainstOthers, groupShareReading, readGroups, shareInterval } from "../shared/shares.js";
import { toldOf } from "../shared/told.js";
import { chartOf, drawn, tableOf } from "./drawing.js";
import { type EntryTimes, entryTimes, fewestMinutes, workingHours } from "./entry-times.js";
import {
  type EntryOrderNumbers,
  judge,
  readTimeShare,
  shareLimits,
  type TimeKind,
  type TimeShare,
  teamLimits,
} from "./numbers.js";

/** The column of a role; empty where it has none. */
function columnOf(settings: SurveySettings, role: string): string {
  const name = settings.columns[role];
  return typeof name === "string" ? name : "";
}

function sharesOf(
  { children, book }: Pick<CheckInput, "children" | "book">,
  times: EntryTimes,
  sent: boolean,
): TimeShare[] {
  const design = measurementDesign(children);
  const marks: readonly (readonly [TimeKind, Uint8Array, Uint8Array])[] = [
    ["quick", times.follows, times.isQuick],
    ...(sent ? [] : [["hours", times.isForm, times.isOutside] as const]),
    ["days", times.hasDay, times.isOtherDay],
  ];
  return marks.flatMap(([kind, inDomain, isCase]) => {
    const n = inDomain.reduce((sum, inside) => sum + inside, 0);
    if (n < fewestChildren) return [];
    const cases = isCase.reduce((sum, one) => sum + one, 0);
    const interval = shareInterval(cases, n, clusteringOf(design, isCase, inDomain).designEffect);
    const share = cases / n;
    const of = book.subject(`times/${kind}`, inDomain).whole;
    return [{ of, kind, n, cases, share, interval, reading: readTimeShare(kind, share, interval) }];
  });
}

function teamsOf(
  { children, book }: Pick<CheckInput, "children" | "book">,
  times: EntryTimes,
  sent: boolean,
): EntryOrderNumbers["teams"] {
  const { isForm, isQuick, isOutside, isOtherDay } = times;
  const isCase = isForm.map((_, i) =>
    isQuick[i] === 1 || (!sent && isOutside[i] === 1) || isOtherDay[i] === 1 ? 1 : 0,
  );
  const groups = countGroups("team", children.team, isCase, isForm, book.subject("times/any", isForm));
  const clustering = clusteringOf(measurementDesign(children), isCase, isForm);
  const teams = groups.map((group) => groupAgainstOthers(group, groups, clustering));
  const adjusted = adjustTogether([], [teams.map(({ probability }) => probability)]);
  return readGroups(teams, adjusted.families[0] ?? [], (team) => team.share - team.expected, teamLimits);
}

/** The most serious of the three; the first of them where several are. */
function worstOf({ shares }: EntryOrderNumbers): TimeShare | undefined {
  return shares.reduce<TimeShare | undefined>(
    (worst, own) => (worst === undefined || severity[own.reading] > severity[worst.reading] ? own : worst),
    undefined,
  );
}

function findingOf(numbers: EntryOrderNumbers, reading: Reading): string {
  const worst = worstOf(numbers);
  if (!isConcern(reading) || worst === undefined) return "expected";
  return isConcern(worst.reading) ? worst.kind : "groups";
}

/** What is not judged, and why. */
function leftOpen({ sent, hasTeams, hasDays }: EntryOrderNumbers): Message[] {
  return [
    ...(sent ? [message("checks.entry-order.meaning.sent")] : []),
    ...(hasTeams || sent ? [] : [message("checks.entry-order.meaning.no-team")]),
    ...(hasDays ? [] : [message("checks.entry-order.meaning.no-day")]),
  ];
}

export const entryOrder: Check<EntryOrderNumbers> = {
  id: "entry-order",
  section: "how",
  needs: ["entry-time"],
  sources: [
    "own-entry-times",
    "newcombe-1998",
    "rao-scott-1984",
    "dhs-small-numbers",
    "benjamini-hochberg-1995",
    "holm-1979",
  ],

  compute({ children, settings, book }) {
    const sent = isSentTime(columnOf(settings, "entry-time"));
    const hasDays = columnOf(settings, "interview-date") !== "" && children.interviewDay !== null;
    const times = entryTimes(children, sent, hasDays ? children.interviewDay : null);
    const forms = times.isForm.reduce((sum, one) => sum + one, 0);
    if (forms < fewestChildren)
      return { cannotTell: message("checks.entry-order.too-few", { n: forms, least: fewestChildren }) };
    const shares = sharesOf({ children, book }, times, sent);
    if (shares.length === 0) return { cannotTell: message("checks.entry-order.only-sent") };
    return {
      forms,
      sent,
      hasTeams: children.team !== null,
      hasDays,
      shares,
      early: times.early,
      teams: teamsOf({ children, book }, times, sent),
      quick: times.quick,
    };
  },

  judge,

  quantities: (numbers) =>
    numbers.shares.map(({ kind, share, n, interval, of }) => ({
      id: `entry-${kind}`,
      of,
      unit: "share",
      value: share,
      n,
      interval,
    })),

  groups: (numbers) => toldOf(numbers.teams).map((team) => groupShareReading("entry-unusual", team)),

  say(numbers, reading) {
    const unusual = isConcern(reading);
    const teams = unusualLabels(numbers.teams);
    const worst = worstOf(numbers);
    const values = {
      cases: worst?.cases ?? 0,
      n: worst?.n ?? 0,
      share: worst?.share ?? 0,
      forms: numbers.forms,
      teams,
      count: teams.length,
    };
    const counted = (kind: TimeKind, also: Message["values"]): Message[] =>
      numbers.shares
        .filter((own) => own.kind === kind)
        .map(({ cases, n, share, interval }) =>
          message(`checks.entry-order.meaning.${kind}`, {
            ...{ cases, n, share, low: interval.low, high: interval.high },
            ...also,
          }),
        );
    return {
      finding: message(`checks.entry-order.finding.${findingOf(numbers, reading)}`, values),
      meaning: [
        ...counted("quick", { minutes: fewestMinutes }),
        ...counted("hours", workingHours),
        ...counted("days", { early: numbers.early }),
        message(`checks.entry-order.meaning.${unusual ? "unusual" : "expected"}`),
        ...(teams.length === 0 ? [] : [message("checks.entry-order.meaning.teams", values)]),
        ...leftOpen(numbers),
      ],
      causes: unusual
        ? ["clock", "column", "paper", "parallel"].map((cause) => message(`checks.entry-order.cause.${cause}`))
        : [],
      actions: unusual ? ["ask", "forms"].map((action) => message(`checks.entry-order.action.${action}`)) : [],
      method: [
        message("checks.entry-order.method.forms"),
        message("checks.entry-order.method.judgement", { minutes: fewestMinutes, ...workingHours }),
        message("checks.entry-order.method.size", {
          quick: shareLimits.quick.explain.share,
          quickDoubt: shareLimits.quick.doubt?.share ?? 1,
          other: shareLimits.days.explain.share,
        }),
        ...(numbers.teams.length === 0
          ? []
          : [message("checks.entry-order.method.teams", { count: numbers.teams.length })]),
      ],
    };
  },

  charts: (numbers, reading) => [
    chartOf(numbers),
    ...(numbers.teams.length === 0 ? [] : [shareChart(drawn(numbers, reading))]),
  ],
  tables: (numbers) => [
    tableOf(numbers),
    ...(numbers.teams.length === 0 ? [] : [shareTable(drawn(numbers, judge(numbers)))]),
  ],
  rows: ({ quick }, { children, settings }) =>
    quick.map(
      ({ child, minutes }): RowToCheck => ({
        sheetRow: children.sheetRow[child] as number,
        columns: [columnOf(settings, "entry-time")],
        message: message("checks.entry-order.row", { minutes }),
      }),
    ),
};
