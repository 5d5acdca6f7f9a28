import type { Block, Difference, Pair } from "../results/comparison.js";
import { fromResults } from "../results/group.js";
import { message } from "../results/message.js";
import type { Chart, Message, Table } from "../results/schema.js";
import { kindOf } from "./cells.js";
import { changeSentence } from "./changes.js";
import type { Comparability } from "./comparability.js";
import { type Compared, isClearDifference } from "./compared.js";
import { comparedOf, differenceTables, notesIn, tally } from "./difference-table.js";
import { combinedMessage, heterogeneityMessages, type Level, roundText, spreadSentence } from "./level-words.js";
import { roundsNotPaired } from "./pairs.js";
import { membersByRound, type Pooled } from "./pooled.js";
import type { SurveySummary } from "./summary.js";

/** Rows a picture of levels may have; of more surveys the two ends of the latest round are drawn. */
const mostDrawn = 80;
/** Pairs of places told one by one in words. */
const mostTold = 3;

/** Everything the blocks of levels are made of. */
export interface LevelParts {
  readonly summaries: readonly SurveySummary[];
  readonly pairs: readonly Pair[];
  readonly differences: readonly Difference[];
  readonly comparability: Comparability;
  readonly pooled: readonly Pooled[];
}

function levelsIn(parts: LevelParts, estimate: string): Level[] {
  return [...membersByRound(parts.comparability, estimate)].map(([round, members]) => ({
    round,
    members: [...members].sort((a, b) => (b.cell.value ?? 0) - (a.cell.value ?? 0)),
    pooled: parts.pooled.find((one) => one.estimate === estimate && one.round === round),
  }));
}

/** The rows drawn: all while they are few, else the highest and lowest of the latest round. */
function drawnOf(levels: readonly Level[]): { levels: readonly Level[]; leftOut: number } {
  const total = levels.reduce((sum, { members }) => sum + members.length, 0);
  const latest = levels.at(-1);
  if (total <= mostDrawn || latest === undefined) return { levels, leftOut: 0 };
  const { members } = latest;
  const half = mostDrawn / 2;
  const kept = members.length <= mostDrawn ? members : [...members.slice(0, half), ...members.slice(-half)];
  return { levels: [{ ...latest, members: kept }], leftOut: total - kept.length };
}

function chartOf(estimate: string, levels: readonly Level[], finding: Message): Chart {
  const several = levels.length > 1;
  const named = { estimate: message(`estimate.${estimate}`) };
  return {
    id: `levels-${estimate}`,
    kind: "intervals",
    title: message("compare.level.chart.title", named),
    alternative: finding,
    x: { label: message(`estimate.${estimate}`), unit: kindOf(estimate) === "mean" ? "z" : "share" },
    lines: levels.flatMap(({ round, pooled }) =>
      pooled?.combined == null
        ? []
        : [{ at: pooled.combined.value, label: message("compare.level.chart.combined", { round: roundText(round) }) }],
    ),
    rows: levels.flatMap(({ round, members }) =>
      members.map(({ survey, cell }) => ({
        ...(several ? { group: roundText(round) } : {}),
        of: fromResults,
        label: survey.place,
        value: cell.value,
        low: cell.interval?.low ?? null,
        high: cell.interval?.high ?? null,
        n: cell.n,
        ...(cell.status === "marked" ? { marked: true } : {}),
      })),
    ),
  };
}

function tableOf(estimate: string, levels: readonly Level[]): Table {
  const unit = kindOf(estimate) === "mean" ? "z" : "share";
  const column = (id: string, of: Table["columns"][number]["unit"]) => ({
    id,
    label: message(`compare.level.table.${id}`),
    unit: of,
  });
  return {
    id: `levels-${estimate}`,
    of: fromResults,
    caption: message("compare.level.table.caption", { estimate: message(`estimate.${estimate}`) }),
    columns: [
      column("round", "text"),
      column("place", "text"),
      column("value", unit),
      column("low", unit),
      column("high", unit),
      column("children", "count"),
      column("clusters", "count"),
      column("design-effect", "ratio"),
    ],
    rows: levels.flatMap(({ round, members }) =>
      members.map(({ survey, cell }) => [
        roundText(round),
        survey.place,
        cell.value,
        cell.interval?.low ?? null,
        cell.interval?.high ?? null,
        cell.n,
        cell.clusters,
        cell.designEffect,
      ]),
    ),
  };
}

function placesMessages(parts: LevelParts, list: readonly Compared[]): Message[] {
  const unpaired = roundsNotPaired(parts.summaries).map((round) => message("compare.level.not-paired", round));
  if (list.length === 0) return unpaired;
  const told = list.filter(isClearDifference).slice(0, mostTold).map(changeSentence);
  return [
    message("compare.level.meaning.pairs", { ...tally(list), clear: list.filter(isClearDifference).length }),
    ...told,
    ...unpaired,
  ];
}

function blockOf(parts: LevelParts, estimate: string, list: readonly Compared[]): Block | null {
  const levels = levelsIn(parts, estimate);
  const latest = [...levels].reverse().find(({ members }) => members.length > 1) ?? levels.at(-1);
  if (latest === undefined) return null;
  const finding = spreadSentence(estimate, latest);
  const drawn = drawnOf(levels);
  const earlier = levels.filter((level) => level !== latest && level.members.length > 1).slice(-mostTold);
  const counts = { drawn: drawn.levels.reduce((sum, { members }) => sum + members.length, 0), leftOut: drawn.leftOut };
  return {
    id: `levels-${estimate}`,
    title: message("compare.level.title", { estimate: message(`estimate.${estimate}`) }),
    finding,
    meaning: [
      ...heterogeneityMessages(estimate, latest),
      ...combinedMessage(estimate, latest),
      ...earlier.flatMap((level) => [spreadSentence(estimate, level), ...combinedMessage(estimate, level)]),
      ...placesMessages(parts, list),
      ...(drawn.leftOut > 0 ? [message("compare.level.left-out", counts)] : []),
    ],
    cautions: [message("compare.level.caution"), ...notesIn(list)],
    charts: [chartOf(estimate, drawn.levels, finding)],
    tables: [tableOf(estimate, levels), ...differenceTables(estimate, list)],
    method: ["heterogeneity", "between", "combined"].map((id) => message(`compare.level.method.${id}`)),
    sources: [
      "cochran-1954-combination",
      "higgins-thompson-2002",
      "viechtbauer-2005",
      "viechtbauer-2007",
      "cochran-1977",
      "variance-components",
    ],
  };
}

/** For each estimate, the surveys on one axis by round, how far they differ beyond chance, and all of them taken together. */
export function levelsOf(parts: LevelParts): Block[] {
  const compared = comparedOf(parts.summaries, parts.pairs, parts.differences);
  return parts.comparability.estimates.flatMap((estimate) => {
    const block = blockOf(parts, estimate, compared.get(`places ${estimate}`) ?? []);
    return block === null ? [] : [block];
  });
}
