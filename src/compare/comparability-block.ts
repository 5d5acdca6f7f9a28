import type { Block } from "../results/comparison.js";
import { fromResults } from "../results/group.js";
import { message } from "../results/message.js";
import type { Message, Table } from "../results/schema.js";
import { fewOf, surveyName } from "./cells.js";
import { pairsNotFound } from "./pairs.js";
import { roundsOf } from "./rounds.js";
import { middleDay, monthsApart } from "./season.js";
import type { SurveySummary } from "./summary.js";
import type { ComparabilitySettings, Together } from "./together.js";

/** What the block is told of the decisions. */
interface Decided {
  readonly rule: string;
  readonly estimates: readonly string[];
  readonly together: (estimate: string) => Together;
}

/** One aspect, what it is in each survey, and whether a difference forbids comparing ('stops') or asks for care. */
interface Aspect {
  readonly id: string;
  readonly of: (survey: SurveySummary) => Message | string;
}

const value = (id: string, values: Readonly<Record<string, number | string>> = {}): Message =>
  message(`compare.comparability.value.${id}`, values);

const yesOrNo = (yes: boolean): Message => value(yes ? "yes" : "no");

/** Any day within a month stands for it. */
function monthOf(survey: SurveySummary): Message {
  const day = middleDay(survey);
  return day === null
    ? value("unknown")
    : value("month", { month: Date.UTC(2001, Number(day.slice(5, 7)) - 1, 15, 12) });
}

function exclusionOf({ definition }: SurveySummary): Message {
  const { exclusionRule, widthAroundMean } = definition;
  return exclusionRule === "around-mean"
    ? value("around-mean", { width: widthAroundMean })
    : message(`exclusion.${exclusionRule}`);
}

/** What is not known of the design, by its short names. */
function designOf({ definition: { designUnknown } }: SurveySummary): Message {
  if (designUnknown.length === 0) return value("design-known");
  return message("compare.comparability.value.design-unknown", {
    gaps: designUnknown.map((id) => message(`design-gap.${id}`)),
  });
}

const aspects: readonly Aspect[] = [
  { id: "ages", of: ({ definition }) => value("ages", { from: definition.ageFrom, to: definition.ageTo }) },
  { id: "position", of: ({ definition }) => value(definition.positionRule === "length" ? "by-length" : "by-age") },
  { id: "exclusion", of: exclusionOf },
  { id: "season", of: monthOf },
  { id: "weights", of: ({ definition }) => yesOrNo(definition.weighted) },
  { id: "correction", of: ({ definition }) => yesOrNo(definition.finitePopulationCorrection) },
  { id: "design", of: designOf },
  { id: "revisited", of: ({ clustersRevisited }) => yesOrNo(clustersRevisited) },
  {
    id: "version",
    of: ({ toolVersion, formatVersion }) => value("version", { version: toolVersion, format: formatVersion }),
  },
];

type Row = readonly [Message, Message | string, number, Message, Message];

const named = (surveys: readonly SurveySummary[]): Message => {
  const { names, more } = fewOf(surveys.map(surveyName));
  return message("compare.comparability.surveys", { names, more });
};

/** Surveys by what an aspect is in them, most surveys first. */
function grouped(summaries: readonly SurveySummary[], aspect: Aspect): [Message | string, SurveySummary[]][] {
  const groups = new Map<string, [Message | string, SurveySummary[]]>();
  for (const survey of summaries) {
    const text = aspect.of(survey);
    const key = JSON.stringify(text);
    const known = groups.get(key);
    if (known === undefined) groups.set(key, [text, [survey]]);
    else known[1].push(survey);
  }
  return [...groups.values()].sort((a, b) => b[1].length - a[1].length);
}

function rowsOfAspect(summaries: readonly SurveySummary[], aspect: Aspect): { rows: Row[]; differs: boolean } {
  const groups = grouped(summaries, aspect);
  const label = message(`compare.comparability.aspect.${aspect.id}`);
  const differs = groups.length > 1;
  const follows = message(
    differs ? `compare.comparability.follows.${aspect.id}` : "compare.comparability.follows.same",
  );
  const rows = groups.map(([text, surveys]): Row => {
    const who = differs ? named(surveys) : message("compare.comparability.all");
    return [label, text, surveys.length, who, follows];
  });
  return { rows, differs };
}

/** Places whose rounds describe their population in different words. */
function rowsOfPlaces(summaries: readonly SurveySummary[]): Row[] {
  return [...roundsOf(summaries).values()].flatMap((rounds) =>
    new Set(rounds.map(({ population }) => population)).size < 2
      ? []
      : rounds.map((survey): Row => {
          const text = survey.population === "" ? value("unknown") : survey.population;
          const label = message("compare.comparability.aspect.population");
          return [label, text, 1, named([survey]), message("compare.comparability.follows.population")];
        }),
  );
}

/** Estimates that some surveys cannot show beside the others, by reason of definition or because they have none. */
function rowsOfEstimates(decided: Decided): Row[] {
  return decided.estimates.flatMap((estimate) => {
    const { leftOut } = decided.together(estimate);
    if (leftOut.length === 0) return [];
    const label = message("compare.comparability.aspect.estimate");
    const who = named(leftOut.map(({ survey }) => survey));
    const follows = message("compare.comparability.follows.estimate");
    return [[label, message(`estimate.${estimate}`), leftOut.length, who, follows] as Row];
  });
}

/** The surveys of a place are months apart in the year, or not all surveys fall within neighbouring months. */
function seasonDiffers(summaries: readonly SurveySummary[]): boolean {
  const byMonth = new Map(summaries.map((survey) => [middleDay(survey)?.slice(5, 7), survey]));
  const one = [...byMonth.values()];
  return one.some((first, i) => one.slice(i + 1).some((second) => (monthsApart(first, second) ?? 0) > 1));
}

function cautionsOf(summaries: readonly SurveySummary[], settings: ComparabilitySettings): Message[] {
  const some = (test: (survey: SurveySummary) => boolean): boolean => summaries.some(test);
  const differs = (of: (survey: SurveySummary) => unknown): boolean => new Set(summaries.map(of)).size > 1;
  const when: readonly (readonly [string, boolean])[] = [
    ["season", seasonDiffers(summaries)],
    ["no-dates", some((survey) => middleDay(survey) === null)],
    ["revisited", some(({ clustersRevisited }) => clustersRevisited)],
    ["design", some(({ definition }) => definition.designUnknown.length > 0)],
    ["weights", differs(({ definition }) => definition.weighted)],
    ["version", differs(({ toolVersion }) => toolVersion)],
    ["clusters-unknown", !some(({ clustersRevisited }) => clustersRevisited) && roundsOf(summaries).size > 0],
  ];
  const said = when.filter(([, holds]) => holds).map(([id]) => message(`compare.comparability.caution.${id}`));
  const lost = pairsNotFound(summaries, settings).map(([first = "", second = ""]) =>
    message("compare.comparability.caution.pair-lost", { first, second }),
  );
  const note =
    settings.seasonNote === null ? [] : [message("compare.comparability.season-note", { note: settings.seasonNote })];
  return [...said, ...note, ...lost];
}

function tableOf(rows: readonly Row[]): Table {
  const column = (id: string, unit: "text" | "count") => ({
    id,
    label: message(`compare.comparability.table.${id}`),
    unit,
  });
  return {
    id: "comparability",
    of: fromResults,
    caption: message("compare.comparability.table.caption"),
    columns: [
      column("aspect", "text"),
      column("value", "text"),
      column("count", "count"),
      column("surveys", "text"),
      column("follows", "text"),
    ],
    rows: rows.map((row) => [...row]),
  };
}

/** Why surveys are left out of an estimate, each reason once with the estimates it touches. */
function leftOutMessages(decided: Decided): Message[] {
  const reasons = new Map<string, { reason: Message; estimates: Message[] }>();
  for (const estimate of decided.estimates) {
    for (const { survey, reason } of decided.together(estimate).leftOut) {
      const own =
        "survey" in reason.values
          ? reason
          : message("compare.comparability.left-out", { survey: surveyName(survey), reason });
      const key = JSON.stringify(own);
      const known = reasons.get(key) ?? { reason: own, estimates: [] };
      known.estimates.push(message(`estimate.${estimate}`));
      reasons.set(key, known);
    }
  }
  const all = [...reasons.values()].map(({ reason, estimates }) =>
    message("compare.comparability.not-drawn", { reason, estimates }),
  );
  const most = 8;
  if (all.length <= most) return all;
  return [...all.slice(0, most), message("compare.comparability.not-drawn-more", { more: all.length - most })];
}

/** What differs between the surveys, before any of their figures are set against each other. */
export function comparabilityBlock(
  summaries: readonly SurveySummary[],
  settings: ComparabilitySettings,
  decided: Decided,
): Block {
  const read = aspects.map((aspect) => ({ aspect, ...rowsOfAspect(summaries, aspect) }));
  const places = rowsOfPlaces(summaries);
  const lacking = rowsOfEstimates(decided);
  const differing = [
    ...read.filter(({ differs }) => differs).map(({ aspect }) => message(`compare.comparability.aspect.${aspect.id}`)),
    ...(places.length > 0 ? [message("compare.comparability.aspect.population")] : []),
    ...(lacking.length > 0 ? [message("compare.comparability.aspect.estimate")] : []),
  ];
  const exclusionDiffers = read.some(({ aspect, differs }) => aspect.id === "exclusion" && differs);
  const rule = { rule: message(`exclusion.${decided.rule}`) };
  const counts = { surveys: summaries.length, aspects: differing };
  return {
    id: "comparability",
    title: message("compare.comparability.title"),
    finding: message(`compare.comparability.finding.${differing.length === 0 ? "same" : "differ"}`, counts),
    meaning: [
      message(`compare.comparability.rule.${exclusionDiffers ? "differs" : "same"}`, rule),
      ...leftOutMessages(decided),
    ],
    cautions: cautionsOf(summaries, settings),
    charts: [],
    tables: [tableOf([...read.flatMap(({ rows }) => rows), ...places, ...lacking])],
    method: [message("compare.comparability.method")],
    sources: ["johnston-2021", "marshak-2021"],
  };
}
