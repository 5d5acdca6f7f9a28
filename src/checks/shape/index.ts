import type { GroupReading, Quantity, Reading } from "../../results/schema.js";
import { upperNormal } from "../../stats/confidence.js";
import type { Check } from "../check.js";
import { toldOf } from "../shared/told.js";
import { charts, tables } from "./drawing.js";
import { indexShapes, teamShapes, whyNoShape } from "./numbers.js";
import { noticedTeams, type ShapeNumbers, say } from "./words.js";

function judge(numbers: ShapeNumbers): Reading {
  const readings = numbers.indices.map((one) => one.reading);
  if (readings.includes("doubt")) return "doubt";
  return readings.includes("explain") || noticedTeams(numbers).length > 0 ? "explain" : "expected";
}

function quantities(numbers: ShapeNumbers): Quantity[] {
  return numbers.indices.flatMap((one): Quantity[] => {
    const { moments, limits } = one;
    const skew = upperNormal * moments.standardErrorOfSkewness;
    const peak = upperNormal * moments.standardErrorOfKurtosis;
    return [
      {
        id: `skewness-${one.index}`,
        of: one.of,
        unit: "index",
        value: moments.skewness,
        n: moments.n,
        interval: { ...limits.skewness, level: 0.95 },
        chance: { expected: 0, low: -skew, high: skew },
      },
      {
        id: `excess-kurtosis-${one.index}`,
        of: one.of,
        unit: "index",
        value: moments.excessKurtosis,
        n: moments.n,
        interval: { ...limits.excessKurtosis, level: 0.95 },
        chance: { expected: 0, low: -peak, high: peak },
      },
      // 5 % point of the adjusted statistic, 0.752: Stephens 1986, table 4.9, from memory.
      {
        id: `anderson-darling-${one.index}`,
        of: one.of,
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
  return toldOf(numbers.teams).map((team) => ({
    by: "team",
    label: team.label,
    n: team.n,
    of: team.of,
    reading: team.reading,
    quantities:
      team.moments === null
        ? []
        : [
            {
              id: "skewness-weight-for-height",
              of: team.of,
              unit: "index",
              value: team.moments.skewness,
              n: team.n,
              chance: chanceOf(team.moments.standardErrorOfSkewness),
            },
            {
              id: "excess-kurtosis-weight-for-height",
              of: team.of,
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
  const half = upperNormal * standardError;
  return { expected: 0, low: -half, high: half };
}

/**
 * Whether z-scores have the shape of one measured population: roughly a bell, without a long tail to one side, heavy tails
 * or two humps. The size of a departure is read, not its significance: with 900 children a test finds departures too
 * small to matter.
 */
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
  compute: ({ children, seed, book }) => {
    const indices = indexShapes({ children, seed, book });
    if (indices.length === 0) return { cannotTell: whyNoShape(children) };
    return { indices, teams: teamShapes({ children, seed, book }) };
  },
  judge,
  quantities,
  groups,
  say,
  charts,
  tables,
};
