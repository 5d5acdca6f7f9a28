import { message } from "../results/message.js";
import type { Chart, GroupReading, Message, Quantity, Reading, Table } from "../results/schema.js";
import type { Check, Said } from "./check.js";
import {
  fewestForShape,
  type IndexShape,
  indexShapes,
  kurtosisGuide,
  skewnessGuide,
  type TeamShape,
  teamShapes,
} from "./shape-numbers.js";

/**
 * Whether z-scores have the shape of one measured population: roughly a bell, without a long tail to one side, heavy tails
 * or two humps. The size of a departure is read, not its significance: with 900 children a test finds departures too
 * small to matter.
 */
export interface ShapeNumbers {
  readonly indices: readonly IndexShape[];
  readonly teams: readonly TeamShape[];
}

function noticedTeams(numbers: ShapeNumbers): readonly TeamShape[] {
  return numbers.teams.filter((team) => team.reading === "explain" || team.reading === "doubt");
}

function judge(numbers: ShapeNumbers): Reading {
  const readings = numbers.indices.map((one) => one.reading);
  if (readings.includes("doubt")) return "doubt";
  return readings.includes("explain") || noticedTeams(numbers).length > 0 ? "explain" : "expected";
}

/** Which departure an index shows, for its words. */
function departure(one: IndexShape): "skewed" | "heavy" | "flat" | "none" {
  if (one.reading === "expected") return "none";
  const { skewness, excessKurtosis } = one.limits;
  if (skewness.low > skewnessGuide || skewness.high < -skewnessGuide) return "skewed";
  return excessKurtosis.low + 3 > kurtosisGuide.high ? "heavy" : "flat";
}

function indexValues(one: IndexShape) {
  return {
    index: message(`index.${one.index}`),
    n: one.moments.n,
    skewness: one.moments.skewness,
    skewnessLow: one.limits.skewness.low,
    skewnessHigh: one.limits.skewness.high,
    excessKurtosis: one.moments.excessKurtosis,
    kurtosisLow: one.limits.excessKurtosis.low,
    kurtosisHigh: one.limits.excessKurtosis.high,
    pearsonKurtosis: one.moments.excessKurtosis + 3,
  };
}

function finding(numbers: ShapeNumbers): Message {
  const worst =
    numbers.indices.find((one) => one.reading === "doubt") ?? numbers.indices.find((one) => one.reading === "explain");
  const teams = noticedTeams(numbers);
  if (worst !== undefined) return message(`checks.shape.finding.${departure(worst)}`, indexValues(worst));
  if (teams.length > 0)
    return message("checks.shape.finding.teams", { teams: teams.map((team) => team.label), teamCount: teams.length });
  return message("checks.shape.finding.expected", {
    indices: numbers.indices.map((one) => message(`index.${one.index}`)),
    indexCount: numbers.indices.length,
  });
}

function say(numbers: ShapeNumbers, reading: Reading): Said {
  const told = (part: string): Message =>
    message(`checks.shape.${part}`, {
      skewness: skewnessGuide,
      kurtosisLow: kurtosisGuide.low,
      kurtosisHigh: kurtosisGuide.high,
      fewest: fewestForShape,
    });
  const noticed = reading === "explain" || reading === "doubt";
  const significant = numbers.indices.filter(
    (one) => one.reading === "expected" && one.andersonDarling.probability < 0.05,
  );
  return {
    finding: finding(numbers),
    meaning: [
      ...numbers.indices.map((one) => message("checks.shape.meaning.index", indexValues(one))),
      ...[...new Set(numbers.indices.map(departure))]
        .filter((kind) => kind !== "none")
        .map((kind) => told(`meaning.${kind}`)),
      ...noticedTeams(numbers).map((team) =>
        message("checks.shape.meaning.team", {
          team: team.label,
          n: team.n,
          skewness: team.moments?.skewness ?? 0,
          excessKurtosis: team.moments?.excessKurtosis ?? 0,
        }),
      ),
      ...(significant.length > 0
        ? [
            message("checks.shape.meaning.significant", {
              indices: significant.map((one) => message(`index.${one.index}`)),
            }),
          ]
        : []),
      ...(noticed ? [] : [told("meaning.not-proof")]),
    ],
    causes: noticed ? [told("cause.mixture"), told("cause.large-errors"), told("cause.age")] : [],
    actions: noticed ? [told("action.look-at-tails"), told("action.by-group")] : [],
    method: [
      told("method.statistics"),
      told("method.interval"),
      told("method.test"),
      told("method.reading"),
      ...(numbers.teams.length > 0 ? [told("method.teams")] : []),
    ],
  };
}

function quantities(numbers: ShapeNumbers): Quantity[] {
  return numbers.indices.flatMap((one): Quantity[] => {
    const { moments, limits } = one;
    const skew = 1.959963984540054 * moments.standardErrorOfSkewness;
    const peak = 1.959963984540054 * moments.standardErrorOfKurtosis;
    return [
      {
        id: `skewness-${one.index}`,
        unit: "index",
        value: moments.skewness,
        n: moments.n,
        interval: { ...limits.skewness, level: 0.95 },
        chance: { expected: 0, low: -skew, high: skew },
      },
      {
        id: `excess-kurtosis-${one.index}`,
        unit: "index",
        value: moments.excessKurtosis,
        n: moments.n,
        interval: { ...limits.excessKurtosis, level: 0.95 },
        chance: { expected: 0, low: -peak, high: peak },
      },
      // 5 % point of the adjusted statistic, 0.752: Stephens 1986, table 4.9, from memory.
      {
        id: `anderson-darling-${one.index}`,
        unit: "statistic",
        value: one.andersonDarling.adjusted,
        n: moments.n,
        chance: { high: 0.752 },
        probability: one.andersonDarling.probability,
      },
    ];
  });
}

function groups(numbers: ShapeNumbers): GroupReading[] {
  return numbers.teams.map((team) => ({
    by: "team",
    label: team.label,
    n: team.n,
    reading: team.reading,
    quantities:
      team.moments === null
        ? []
        : [
            {
              id: "skewness-weight-for-height",
              unit: "index",
              value: team.moments.skewness,
              n: team.n,
              chance: chanceOf(team.moments.standardErrorOfSkewness),
            },
            {
              id: "excess-kurtosis-weight-for-height",
              unit: "index",
              value: team.moments.excessKurtosis,
              n: team.n,
              chance: chanceOf(team.moments.standardErrorOfKurtosis),
            },
          ],
    ...(team.moments === null ? {} : { adjustedProbability: team.adjustedProbability }),
  }));
}

function chanceOf(standardError: number) {
  const half = 1.959963984540054 * standardError;
  return { expected: 0, low: -half, high: half };
}

function charts(numbers: ShapeNumbers): Chart[] {
  const teams = numbers.teams.flatMap(({ label, n, moments, bins }) =>
    moments === null
      ? []
      : [{ label, n, mean: moments.mean, standardDeviation: moments.standardDeviation, bins: [...bins] }],
  );
  const whole: Chart = {
    id: "shape",
    kind: "z-distribution",
    title: message("checks.shape.chart.title"),
    alternative: finding(numbers),
    panels: numbers.indices.map(({ index, moments, bins }) => ({
      label: message(`index.${index}`),
      n: moments.n,
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

function tables(numbers: ShapeNumbers): Table[] {
  const column = (id: string, unit: Table["columns"][number]["unit"]) => ({
    id,
    label: message(`checks.shape.table.${id}`),
    unit,
  });
  return [
    {
      id: "shape",
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

export const shape: Check<ShapeNumbers> = {
  id: "shape",
  section: "what",
  needs: ["any-index"],
  sources: [
    "joanes-gill-1998",
    "stephens-1986",
    "dagostino-1990",
    "wright-herrington-2011",
    "who-unicef-2019-quality",
    "bilukha-2020",
    "frison-2016",
  ],
  compute: ({ children, seed }) => {
    const indices = indexShapes(children, seed);
    if (indices.length === 0) return { cannotTell: message("checks.shape.unknown.few", { fewest: fewestForShape }) };
    return { indices, teams: teamShapes(children, seed) };
  },
  judge,
  quantities,
  groups,
  say,
  charts,
  tables,
};
