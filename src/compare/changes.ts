import type { Block, Difference, Pair } from "../results/comparison.js";
import { message } from "../results/message.js";
import type { Chart, Message } from "../results/schema.js";
import { cellUnder, differenceText, kindOf, limitText, valueText } from "./cells.js";
import type { Comparability } from "./comparability.js";
import { type Compared, isClearDifference, strength } from "./compared.js";
import { comparedOf, differenceTables, notesIn, tally } from "./difference-table.js";
import { pairName } from "./pair-name.js";
import { roundsOf } from "./rounds.js";
import { middleDay } from "./season.js";
import type { SurveySummary } from "./summary.js";

/** Panels that stay readable. */
const mostPanels = 48;
/** Of more places those with the strongest last step are drawn, so many of them, which is two pages. */
const panelsOfMany = 24;
/** Changes told one by one in words. */
const mostTold = 3;

/** 'Yundeth, 2024-03 to 2024-10: 9.8% to 13.1%, +3.3 points (+0.2 to +6.4), a clear rise.' */
export function changeSentence({ difference, pair, first, second }: Compared): Message {
  const { estimate, interval, verdict } = difference;
  const named = { estimate: message(`estimate.${estimate}`), pair: pairName(pair, first, second) };
  if (difference.first === null || difference.second === null || difference.difference === null) {
    return message("compare.change.one.nothing", { ...named, reason: difference.reason ?? "" });
  }
  const values = {
    ...named,
    first: valueText(estimate, difference.first),
    second: valueText(estimate, difference.second),
    difference: differenceText(estimate, difference.difference),
  };
  if (interval === null)
    return message("compare.change.one.no-interval", { ...values, reason: difference.reason ?? "" });
  const limits = { low: limitText(estimate, interval.low), high: limitText(estimate, interval.high) };
  const told = { ...values, ...limits, verdict: message(`compare.verdict.${pair.question}.${verdict}`) };
  return message("compare.change.one.told", told);
}

/** One sentence for all changes: the change itself where there is one, else how many go which way. */
function findingOf(estimate: string, list: readonly Compared[]): Message {
  const [only] = list;
  if (list.length === 1 && only !== undefined) return changeSentence(only);
  return message("compare.change.finding", { estimate: message(`estimate.${estimate}`), ...tally(list) });
}

type Panel = Extract<Chart, { kind: "rounds" }>["panels"][number];

/** The rounds of a place that can be drawn: a value, a day, and on the common axis. */
function pointsOf(rounds: readonly SurveySummary[], estimate: string, comparability: Comparability): Panel["points"] {
  const drawn = new Set(comparability.together(estimate).surveys);
  return rounds.flatMap((survey) => {
    const cell = cellUnder(survey, estimate, comparability.rule);
    const day = middleDay(survey);
    if (!drawn.has(survey) || cell?.value == null || day === null) return [];
    return [
      {
        label: survey.round ?? survey.title,
        day,
        value: cell.value,
        low: cell.interval?.low ?? null,
        high: cell.interval?.high ?? null,
        n: cell.n,
        ...(cell.status === "marked" ? { marked: true } : {}),
      },
    ];
  });
}

/** One panel a place, in the order given, with how strong its last step is. */
function panelsOf(parts: ChangeParts, estimate: string, list: readonly Compared[]): { panel: Panel; last: number }[] {
  const byPair = new Map(list.map((one) => [one.pair.id, one]));
  return [...roundsOf(parts.summaries)].flatMap(([place, rounds]) => {
    const points = pointsOf(rounds, estimate, parts.comparability);
    if (points.length < 2) return [];
    const last = byPair.get(`${rounds.at(-2)?.key}..${rounds.at(-1)?.key}`);
    const emphasis = last !== undefined && isClearDifference(last);
    return [{ panel: { label: place, points, emphasis }, last: last === undefined ? -1 : strength(last) }];
  });
}

function chartOf(estimate: string, panels: readonly Panel[], finding: Message): Chart {
  const named = { estimate: message(`estimate.${estimate}`) };
  return {
    id: `changes-${estimate}`,
    kind: "rounds",
    title: message("compare.change.chart.title", named),
    alternative: finding,
    y: { label: message(`estimate.${estimate}`), unit: kindOf(estimate) === "mean" ? "z" : "share" },
    panels: [...panels],
  };
}

/** Everything the blocks of changes are made of. */
export interface ChangeParts {
  readonly summaries: readonly SurveySummary[];
  readonly pairs: readonly Pair[];
  readonly differences: readonly Difference[];
  readonly comparability: Comparability;
}

function blockOf(parts: ChangeParts, estimate: string, list: readonly Compared[]): Block {
  const finding = findingOf(estimate, list);
  const all = panelsOf(parts, estimate, list);
  // In the order given while all are drawn, else the strongest first.
  const panels = all.length > mostPanels ? [...all].sort((a, b) => b.last - a.last).slice(0, panelsOfMany) : all;
  const told = list.length > 1 ? list.filter(isClearDifference).slice(0, mostTold) : [];
  const counts = { shown: panels.length, places: all.length };
  return {
    id: `changes-${estimate}`,
    title: message("compare.change.title", { estimate: message(`estimate.${estimate}`) }),
    finding,
    ...(list.every(({ difference }) => difference.verdict === "cannot-tell") ? { reading: "unknown" as const } : {}),
    meaning: [
      ...told.map(changeSentence),
      ...(tally(list).unclear > 0 ? [message("compare.change.meaning.unclear")] : []),
      ...(list.some(isClearDifference) ? [message("compare.change.meaning.clear")] : []),
      ...(panels.length < all.length ? [message("compare.change.left-out", counts)] : []),
    ],
    cautions: notesIn(list),
    charts:
      panels.length === 0
        ? []
        : [
            chartOf(
              estimate,
              panels.map(({ panel }) => panel),
              finding,
            ),
          ],
    tables: differenceTables(estimate, list),
    method: ["difference", "discovery", "overlap"].map((id) => message(`compare.change.method.${id}`)),
    sources: ["schenker-gentleman-2001", "variance-components", "benjamini-hochberg-1995"],
  };
}

/** For each estimate, how it changed from round to round. Nothing where no place was seen twice. */
export function changesOf(parts: ChangeParts): Block[] {
  const compared = comparedOf(parts.summaries, parts.pairs, parts.differences);
  return parts.comparability.estimates.flatMap((estimate) => {
    const list = compared.get(`rounds ${estimate}`);
    return list === undefined ? [] : [blockOf(parts, estimate, list)];
  });
}
