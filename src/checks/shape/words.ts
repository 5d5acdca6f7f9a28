import { message } from "../../results/message.js";
import { isConcern } from "../../results/reading.js";
import type { Message, Reading } from "../../results/schema.js";
import { significanceLevel } from "../../stats/confidence.js";
import type { Said } from "../check.js";
import { fewestForShape, type IndexShape, kurtosisGuide, skewnessGuide, type TeamShape } from "./numbers.js";

/** The shapes of all indices, and of each team. */
export interface ShapeNumbers {
  readonly indices: readonly IndexShape[];
  readonly teams: readonly TeamShape[];
}

/** The teams that need explaining or are in doubt. */
export function noticedTeams(numbers: ShapeNumbers): readonly TeamShape[] {
  return numbers.teams.filter((team) => isConcern(team.reading));
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

/** The finding: the index that departs most, else the teams. */
export function finding(numbers: ShapeNumbers): Message {
  const worst =
    numbers.indices.find((one) => one.reading === "doubt") ?? numbers.indices.find((one) => one.reading === "explain");
  const teams = noticedTeams(numbers);
  const kind = worst === undefined ? "none" : departure(worst);
  if (worst !== undefined && kind !== "none") return message(`checks.shape.finding.${kind}`, indexValues(worst));
  if (teams.length > 0)
    return message("checks.shape.finding.teams", { teams: teams.map((team) => team.label), teamCount: teams.length });
  return message("checks.shape.finding.expected", {
    indices: numbers.indices.map((one) => message(`index.${one.index}`)),
    indexCount: numbers.indices.length,
  });
}

/** Everything the check says. */
export function say(numbers: ShapeNumbers, reading: Reading): Said {
  const told = (part: string): Message =>
    message(`checks.shape.${part}`, {
      skewness: skewnessGuide,
      kurtosisLow: kurtosisGuide.low,
      kurtosisHigh: kurtosisGuide.high,
      fewest: fewestForShape,
    });
  const noticed = isConcern(reading);
  const significant = numbers.indices.filter(
    (one) => one.reading === "expected" && one.andersonDarling.probability < significanceLevel,
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
