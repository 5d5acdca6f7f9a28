import { message } from "../../results/message.js";
import type { Chart, Table } from "../../results/schema.js";
import { toldOf } from "../shared/told.js";
import { finding, noticedTeams, type ShapeNumbers } from "./words.js";

/** The distributions of all indices, and of each team. */
export function charts(numbers: ShapeNumbers): Chart[] {
  const teams = toldOf(numbers.teams).flatMap(({ label, of, n, moments, bins }) =>
    moments === null
      ? []
      : [{ label, of, n, mean: moments.mean, standardDeviation: moments.standardDeviation, bins: [...bins] }],
  );
  const whole: Chart = {
    id: "shape",
    kind: "z-distribution",
    title: message("checks.shape.chart.title"),
    alternative: finding(numbers),
    panels: numbers.indices.map(({ index, of, moments, bins }) => ({
      label: message(`index.${index}`),
      n: moments.n,
      of,
      mean: moments.mean,
      standardDeviation: moments.standardDeviation,
      bins: [...bins],
    })),
  };
  if (teams.length < 2) return [whole];
  const noticed = noticedTeams(numbers);
  return [
    whole,
    {
      id: "shape-teams",
      kind: "z-distribution",
      title: message("checks.shape.chart.teams-title"),
      alternative: message(`checks.shape.chart.teams-alternative${noticed.length > 0 ? "" : "-even"}`, {
        teams: noticed.map((team) => team.label),
        teamCount: noticed.length,
      }),
      panels: teams,
    },
  ];
}

/** The moments with their limits. */
export function tables(numbers: ShapeNumbers): Table[] {
  const column = (id: string, unit: Table["columns"][number]["unit"]) => ({
    id,
    label: message(`checks.shape.table.${id}`),
    unit,
  });
  return [
    {
      id: "shape",
      of: numbers.indices.map(({ of }) => of),
      caption: message("checks.shape.table.caption"),
      columns: [
        column("index", "text"),
        column("n", "count"),
        column("mean", "z"),
        column("sd", "z"),
        column("skewness", "index"),
        column("skewness-low", "index"),
        column("skewness-high", "index"),
        column("excess-kurtosis", "index"),
        column("kurtosis-low", "index"),
        column("kurtosis-high", "index"),
        column("anderson-darling", "statistic"),
        column("probability", "probability"),
        column("reading", "reading"),
      ],
      rows: numbers.indices.map((one) => [
        message(`index.${one.index}`),
        one.moments.n,
        one.moments.mean,
        one.moments.standardDeviation,
        one.moments.skewness,
        one.limits.skewness.low,
        one.limits.skewness.high,
        one.moments.excessKurtosis,
        one.limits.excessKurtosis.low,
        one.limits.excessKurtosis.high,
        one.andersonDarling.adjusted,
        one.andersonDarling.probability,
        one.reading,
      ]),
      notes: [message("checks.shape.table.note")],
    },
  ];
}
