import { message } from "../../results/message.js";
import type { Chart, Message, Reading, Table } from "../../results/schema.js";
import { keptBackNotes, type Told, toldOf } from "../shared/told.js";
import type { DriftMeasure } from "./drift-scores.js";
import type { TeamDrift } from "./team-drift.js";
import { explainSize, type TeamFinding, type TeamsDifferNumbers } from "./team-findings.js";

/** The label of a team that may be printed. */
export function labelOf(numbers: TeamsDifferNumbers, team: number): string {
  return numbers.teams.find((own) => own.team === team)?.label ?? "";
}

/** The finding about one team and subject. */
export function findingFor(
  numbers: TeamsDifferNumbers,
  kind: TeamFinding["kind"],
  subject: TeamFinding["subject"],
  team: number,
): TeamFinding | undefined {
  return numbers.findings.find((one) => one.kind === kind && one.subject === subject && one.team === team);
}

function finite(value: number): number | null {
  return Number.isFinite(value) ? value : null;
}

/** Each team's difference from the others, index by index. */
export function levelChart(numbers: TeamsDifferNumbers, alternative: Message): Chart {
  return {
    id: "teams-differ",
    kind: "intervals",
    title: message("checks.teams-differ.chart.levels-title"),
    alternative,
    x: { label: message("checks.teams-differ.chart.levels-axis"), unit: "z" },
    band: { low: -explainSize, high: explainSize, label: message("checks.teams-differ.chart.small") },
    lines: [{ at: 0, label: message("checks.teams-differ.chart.same") }],
    rows: numbers.levels.flatMap(({ index, teams }) =>
      toldOf(teams).map((team) => {
        const reading = findingFor(numbers, "level", index, team.team)?.reading ?? "unknown";
        const shown = reading !== "unknown";
        return {
          group: message(`index.${index}`),
          label: labelOf(numbers, team.team),
          value: shown ? finite(team.difference) : null,
          low: shown ? finite(team.low) : null,
          high: shown ? finite(team.high) : null,
          n: team.n,
          of: team.of,
          reading,
          ...(team.n < 50 ? { marked: true } : {}),
        };
      }),
    ),
  };
}

function driftPanel(numbers: TeamsDifferNumbers, trend: Told<TeamDrift>) {
  const reading: Reading = findingFor(numbers, "drift", trend.measure, trend.team)?.reading ?? "unknown";
  return {
    label: labelOf(numbers, trend.team),
    of: trend.of,
    reading,
    points: trend.days.map(({ of, day, mean, low, high, n }) => ({ x: day + 1, y: mean, of, low, high, n })),
    fitted: trend.fitted.map(({ day, mean }) => ({ x: day + 1, y: mean })),
  };
}

/** Daily means of every team with its fitted trend; null where no trend could be fitted. */
export function driftChart(numbers: TeamsDifferNumbers, measure: DriftMeasure): Chart | null {
  const trends = toldOf(numbers.drifts).filter((one) => one.measure === measure && !Number.isNaN(one.slope));
  if (trends.length === 0) return null;
  const noticed = numbers.findings.filter(
    (one) => one.kind === "drift" && one.subject === measure && one.reading !== "expected",
  );
  const axis = measure === "weight" && numbers.weightHeldAgainstArm ? "weight-held-against-arm" : measure;
  return {
    id: `teams-differ-days-${measure}`,
    kind: "lines",
    title: message(`checks.teams-differ.chart.days-${measure}`),
    alternative: message(`checks.teams-differ.chart.days-alternative${noticed.length > 0 ? "" : "-even"}`, {
      measure,
      teams: noticed.map((one) => labelOf(numbers, one.team)),
      teamCount: noticed.length,
    }),
    x: { label: message("checks.teams-differ.chart.day"), unit: "day" },
    y: { label: message(`checks.teams-differ.chart.axis-${axis}`), unit: "z" },
    verticals: [],
    horizontals: [{ at: 0, label: message("checks.teams-differ.chart.mean") }],
    panels: trends.map((trend) => driftPanel(numbers, trend)),
  };
}

function levelsTable(numbers: TeamsDifferNumbers): Table {
  const column = (id: string, unit: Table["columns"][number]["unit"]) => ({
    id,
    label: message(`checks.teams-differ.table.${id}`),
    unit,
  });
  return {
    id: "teams-differ",
    of: numbers.levels.flatMap(({ teams }) => toldOf(teams).map(({ of }) => of)),
    caption: message("checks.teams-differ.table.levels-caption"),
    columns: [
      column("index", "text"),
      column("team", "text"),
      column("n", "count"),
      column("mean", "z"),
      column("difference", "z"),
      column("low", "z"),
      column("high", "z"),
      column("spread-ratio", "ratio"),
      column("adjusted", "probability"),
      column("reading", "reading"),
    ],
    rows: numbers.levels.flatMap(({ index, teams }) =>
      toldOf(teams).map((team) => {
        const found = findingFor(numbers, "level", index, team.team);
        const cells =
          found === undefined
            ? [null, null, null, null, null, null]
            : [team.mean, team.difference, team.low, team.high, team.spreadRatio, found.adjustedProbability];
        return [
          message(`index.${index}`),
          labelOf(numbers, team.team),
          team.n,
          ...cells.map((cell) => (cell === null ? null : finite(cell))),
          found?.reading ?? "unknown",
        ];
      }),
    ),
    notes: [
      message("checks.teams-differ.table.levels-note"),
      ...keptBackNotes(numbers.levels.flatMap(({ teams }) => teams)),
    ],
  };
}

function driftsTable(numbers: TeamsDifferNumbers): Table {
  const column = (id: string, unit: Table["columns"][number]["unit"]) => ({
    id,
    label: message(`checks.teams-differ.table.${id}`),
    unit,
  });
  return {
    id: "teams-differ-days",
    of: toldOf(numbers.drifts).map(({ of }) => of),
    caption: message("checks.teams-differ.table.days-caption"),
    columns: [
      column("measure", "text"),
      column("team", "text"),
      column("n", "count"),
      column("days", "count"),
      column("slope", "z"),
      column("low", "z"),
      column("high", "z"),
      column("change", "z"),
      column("adjusted", "probability"),
      column("reading", "reading"),
    ],
    rows: toldOf(numbers.drifts).map((trend) => {
      const found = findingFor(numbers, "drift", trend.measure, trend.team);
      return [
        message(`checks.teams-differ.measure.${trend.measure}`),
        labelOf(numbers, trend.team),
        trend.n,
        trend.dayCount,
        finite(trend.slope),
        finite(trend.low),
        finite(trend.high),
        finite(trend.change),
        found === undefined ? null : found.adjustedProbability,
        found?.reading ?? "unknown",
      ];
    }),
    notes: [message("checks.teams-differ.table.days-note")],
  };
}

export function teamTables(numbers: TeamsDifferNumbers): Table[] {
  return [levelsTable(numbers), driftsTable(numbers)].filter((table) => table.rows.length > 0);
}
