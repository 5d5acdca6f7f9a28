import type { Block } from "../results/comparison.js";
import { message } from "../results/message.js";
import { isConcern, severity } from "../results/reading.js";
import type { Chart, Message, Reading } from "../results/schema.js";
import { fewOf, surveyName } from "./cells.js";
import { type Entry, figuresOf, figureTable, type Panel, panelOf } from "./quality-figures.js";
import { findingsByRound, roundsBlock } from "./quality-rounds.js";
import type { SurveySummary } from "./summary.js";

/** Surveys named in a sentence; the rest is counted. */
const mostNamed = 4;

const named = (surveys: readonly SurveySummary[]) => ({
  ...fewOf(surveys.map(surveyName), mostNamed),
  count: surveys.length,
});

/** A check that raises a question somewhere: where, and how serious. */
function findingOf({ title: check, entries }: Side, surveys: number): Message {
  const of = (reading: Reading): SurveySummary[] =>
    entries.filter((entry) => entry.check.reading === reading).map(({ survey }) => survey);
  const [doubt, explain] = [of("doubt"), of("explain")];
  return doubt.length > 0
    ? message("compare.quality.finding.doubt", { check, surveys, ...named(doubt), explain: explain.length })
    : message("compare.quality.finding.explain", { check, surveys, ...named(explain) });
}

/** Surveys of which the check cannot tell, with the reason, each reason once: never the same as 'as expected'. */
function unknownOf({ title: check, entries, absent }: Side): Message[] {
  const reasons = new Map<string, { readonly reason: Message; readonly entries: Entry[] }>();
  for (const entry of entries) {
    if (entry.check.reading !== "unknown") continue;
    const reason = entry.check.reason ?? message("compare.quality.no-reason");
    const key = JSON.stringify(reason);
    const known = reasons.get(key) ?? { reason, entries: [] };
    known.entries.push(entry);
    reasons.set(key, known);
  }
  const told = [...reasons.values()].map(({ reason, entries: own }) =>
    message("compare.quality.unknown", { check, reason, ...named(own.map(({ survey }) => survey)) }),
  );
  return absent.length === 0 ? told : [...told, message("compare.quality.absent", { check, ...named(absent) })];
}

/** A check in all surveys. */
interface Side {
  readonly id: string;
  readonly title: Message;
  readonly entries: readonly Entry[];
  /** Surveys whose results do not have it. */
  readonly absent: readonly SurveySummary[];
  /** The most serious reading that is known; 'unknown' only where none is. */
  readonly worst: Reading;
}

function sideOf(id: string, summaries: readonly SurveySummary[]): Side {
  const entries: Entry[] = [];
  const absent: SurveySummary[] = [];
  for (const survey of summaries) {
    const check = survey.checks.get(id);
    if (check === undefined) absent.push(survey);
    else entries.push({ survey, check });
  }
  const known = entries.map(({ check }) => check.reading).filter((reading) => reading !== "unknown");
  const worst = known.reduce<Reading>(
    (most, reading) => (severity[reading] > severity[most] ? reading : most),
    known.length === 0 ? "unknown" : "expected",
  );
  return { id, title: message(`checks.${id}.title`), entries, absent, worst };
}

const method = ["chance", "reading", "order"].map((part) => message(`compare.quality.method.${part}`));

function chartOf(id: string, title: Message, alternative: Message, panels: readonly Panel[]): Chart[] {
  const drawn = panels.filter(({ rows }) => rows.length > 1);
  return drawn.length === 0 ? [] : [{ id, kind: "against-chance", title, alternative, panels: drawn }];
}

/** A check that raises a question in at least one survey. */
function concernBlock(side: Side, surveys: number): Block {
  const { id, title, entries, worst } = side;
  const figures = figuresOf(entries);
  const finding = findingOf(side, surveys);
  const panels = figures.flatMap((figure) => panelOf(entries, figure) ?? []);
  return {
    id: `quality-${id}`,
    title,
    finding,
    reading: worst,
    meaning: unknownOf(side),
    cautions: [],
    charts: chartOf(`quality-${id}`, message("compare.quality.chart.title", { check: title }), finding, panels),
    tables: [figureTable(id, title, entries, figures)],
    method,
    sources: [],
  };
}

const quoted = (side: Side): Message => message("compare.quality.quoted", { check: side.title });

/** All checks that raise no question anywhere, in one picture with a panel for each; null where there are none. */
function expectedBlock(sides: readonly Side[]): Block | null {
  if (sides.length === 0) return null;
  const finding = message("compare.quality.finding.expected", { count: sides.length });
  const panels = sides.flatMap(({ title, entries }) => {
    const [figure] = figuresOf(entries);
    const panel = figure === undefined ? null : panelOf(entries, figure);
    return panel === null
      ? []
      : [{ ...panel, label: message("compare.quality.panel", { check: title, figure: panel.label }) }];
  });
  return {
    id: "quality-expected",
    title: message("compare.quality.title.expected"),
    finding,
    reading: "expected",
    meaning: [message("compare.quality.meaning.expected", { names: sides.map(quoted) }), ...sides.flatMap(unknownOf)],
    cautions: [],
    charts: chartOf("quality-expected", message("compare.quality.chart.expected"), finding, panels),
    tables: [],
    method,
    sources: [],
  };
}

/** All checks that no survey could tell, with the reasons; null where there are none. */
function unknownBlock(sides: readonly Side[]): Block | null {
  if (sides.length === 0) return null;
  return {
    id: "quality-unknown",
    title: message("compare.quality.title.unknown"),
    finding: message("compare.quality.finding.unknown", { count: sides.length }),
    reading: "unknown",
    meaning: sides.flatMap(unknownOf),
    cautions: [],
    charts: [],
    tables: [],
    method: [],
    sources: [],
  };
}

/** Checks in the order in which the surveys list them; one that only some have comes after the one before it there. */
function checkIds(summaries: readonly SurveySummary[]): string[] {
  const ids: string[] = [];
  for (const { checks } of summaries) {
    let after = -1;
    for (const id of checks.keys()) {
      const at = ids.indexOf(id);
      if (at < 0) ids.splice(after + 1, 0, id);
      after = at < 0 ? after + 1 : at;
    }
  }
  return ids;
}

/**
 * Quality side by side: first what is new, gone or still there since the round before; then each check that raises a
 * question, the most serious first, every survey's figure against what chance alone gives at its own number of children;
 * then the checks that raise none, a panel each; then those that cannot be told.
 */
export function qualityBlocks(summaries: readonly SurveySummary[]): Block[] {
  const rounds = roundsBlock(findingsByRound(summaries));
  const sides = checkIds(summaries).map((id) => sideOf(id, summaries));
  const concerns = sides
    .filter(({ worst }) => isConcern(worst))
    .sort((a, b) => severity[b.worst] - severity[a.worst])
    .map((side) => concernBlock(side, summaries.length));
  const expected = expectedBlock(sides.filter(({ worst }) => worst === "expected"));
  const unknown = unknownBlock(sides.filter(({ worst }) => worst === "unknown"));
  return [rounds, ...concerns, expected, unknown].filter((block) => block !== null);
}
