import type { Block } from "../results/comparison.js";
import { fromResults } from "../results/group.js";
import { message } from "../results/message.js";
import { isConcern, severity } from "../results/reading.js";
import type { Message, Reading, Table, TableCell } from "../results/schema.js";
import { fewOf, surveyName } from "./cells.js";
import { columnsOf } from "./columns.js";
import { type Followed, followedTeams, type PooledDifference, pooledDifferences } from "./followed-teams.js";
import type { SurveySummary } from "./summary.js";
import { clearBelow } from "./verdict.js";

/** A check that concerned one team in at least one of its surveys. */
interface Concern {
  readonly team: string;
  readonly check: string;
  readonly concerned: readonly SurveySummary[];
  readonly known: number;
  readonly worst: Reading;
}

function concernsOf(followed: readonly Followed[]): Concern[] {
  const concerns = followed.flatMap(({ team, sightings }) => {
    const ids = new Set(sightings.flatMap(({ readings }) => [...readings.keys()]));
    return [...ids].flatMap((check): Concern[] => {
      const read = sightings.flatMap(({ survey, readings }) => {
        const reading = readings.get(check);
        return reading === undefined || reading === "unknown" ? [] : [{ survey, reading }];
      });
      const concerned = read.filter(({ reading }) => isConcern(reading));
      if (concerned.length === 0) return [];
      const worst = concerned.some(({ reading }) => reading === "doubt") ? "doubt" : "explain";
      return [{ team, check, concerned: concerned.map(({ survey }) => survey), known: read.length, worst }];
    });
  });
  return concerns.sort(
    (a, b) =>
      b.concerned.length - a.concerned.length || severity[b.worst] - severity[a.worst] || (a.team < b.team ? -1 : 1),
  );
}

const label = (id: string): Message => message(`compare.teams.table.${id}`);

function concernTable(concerns: readonly Concern[]): Table {
  return {
    id: "teams-followed",
    of: fromResults,
    caption: label("caption"),
    columns: columnsOf(label, [
      ["team", "text"],
      ["check", "text"],
      ["worst", "reading"],
      ["concerned", "count"],
      ["known", "count"],
      ["where", "text"],
    ]),
    rows: concerns.map(({ team, check, concerned, known, worst }): TableCell[] => [
      team,
      message(`checks.${check}.title`),
      worst,
      concerned.length,
      known,
      message("compare.teams.where", { ...fewOf(concerned.map(surveyName), 4) }),
    ]),
  };
}

function differenceTable(differences: readonly PooledDifference[]): Table {
  const ordered = [...differences].sort((a, b) => a.adjustedProbability - b.adjustedProbability);
  return {
    id: "teams-differences",
    of: fromResults,
    caption: label("differences"),
    columns: columnsOf(label, [
      ["team", "text"],
      ["index", "text"],
      ["surveys", "count"],
      ["value", "z"],
      ["low", "z"],
      ["high", "z"],
      ["probability", "probability"],
    ]),
    rows: ordered.map((one): TableCell[] => [
      one.team,
      message(`index.${one.index}`),
      one.surveys,
      one.value,
      one.low,
      one.high,
      one.adjustedProbability,
    ]),
    notes: [label("note")],
  };
}

function clearMessages(differences: readonly PooledDifference[]): Message[] {
  return differences
    .filter(({ adjustedProbability }) => adjustedProbability < clearBelow)
    .slice(0, 5)
    .map(({ team, index, surveys, value, low, high }) =>
      message(value > 0 ? "compare.teams.meaning.higher" : "compare.teams.meaning.lower", {
        team,
        index: message(`index.${index}`),
        surveys,
        value: Math.abs(value),
        low: value > 0 ? low : -high,
        high: value > 0 ? high : -low,
      }),
    );
}

/** Team codes followed through the surveys in which they stand. */
export function teamBlocks(summaries: readonly SurveySummary[]): Block[] {
  const followed = followedTeams(summaries);
  const base = { id: "teams-followed", title: message("compare.teams.title"), charts: [], sources: [] };
  if (followed.length === 0) {
    const finding = message("compare.teams.finding.none");
    return [{ ...base, finding, reading: "unknown", meaning: [], cautions: [], tables: [], method: [] }];
  }
  const concerns = concernsOf(followed);
  const returning = concerns.filter(({ concerned }) => concerned.length > 1);
  const differences = pooledDifferences(followed);
  const teams = new Set(returning.map(({ team }) => team));
  const finding =
    returning.length > 0
      ? message("compare.teams.finding.returning", {
          followed: followed.length,
          teams: [...teams].slice(0, 5),
          count: teams.size,
        })
      : message("compare.teams.finding.single", { followed: followed.length, concerns: concerns.length });
  return [
    {
      ...base,
      finding,
      meaning: [
        ...returning.slice(0, 5).map(({ team, check, concerned, known }) =>
          message("compare.teams.meaning.returning", {
            team,
            check: message(`checks.${check}.title`),
            concerned: concerned.length,
            known,
          }),
        ),
        ...clearMessages(differences),
      ],
      cautions: [message("compare.teams.caution.code"), message("compare.teams.caution.place")],
      tables: [
        ...(concerns.length > 0 ? [concernTable(concerns)] : []),
        ...(differences.length > 0 ? [differenceTable(differences)] : []),
      ],
      method: [message("compare.teams.method.followed"), message("compare.teams.method.pooled")],
      sources: ["benjamini-hochberg-1995"],
    },
  ];
}
