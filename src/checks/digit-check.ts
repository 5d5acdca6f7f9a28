import { message } from "../results/message.js";
import type { GroupReading, Quantity } from "../results/schema.js";
import type { Check, Need } from "./check.js";
import { charts, tables } from "./digit-drawing.js";
import { common, say } from "./digit-words.js";
import {
  type DigitMeasure,
  type DigitNumbers,
  type DigitSeries,
  digitNumbers,
  judgeDigits,
  judgeStep,
} from "./digits.js";

function seriesQuantities(series: DigitSeries, numbers: DigitNumbers): Quantity[] {
  const n = series.n;
  const share = (id: string, part: NonNullable<DigitSeries["zeroOrFive"]>): Quantity => ({
    id,
    unit: "share",
    value: part.value,
    n,
    interval: part.interval,
    chance: { expected: part.expected, low: part.low, high: part.high },
  });
  return [
    share("digit-share-zero", series.zero),
    ...(series.zeroOrFive === null ? [] : [share("digit-share-zero-or-five", series.zeroOrFive)]),
    {
      id: "digit-dissimilarity",
      unit: "share",
      value: series.dissimilarity,
      n,
      chance: { expected: series.dissimilarityChance.mean, low: 0, high: series.dissimilarityChance.upper95 },
    },
    {
      id: "digit-preference-score",
      unit: "index",
      value: series.score,
      n,
      chance: { expected: series.scoreChance.mean, low: 0, high: series.scoreChance.upper95 },
    },
    {
      id: "digit-chi-square",
      unit: "statistic",
      value: series.chiSquare,
      n,
      probability: series.probability,
      chance: { expected: series.degreesOfFreedom },
    },
    { id: "digit-added-spread", unit: numbers.measure.unit, value: series.addedSpread, n },
  ];
}

function quantities(numbers: DigitNumbers): Quantity[] {
  const unit = numbers.measure.unit;
  return [
    { id: "digit-step", unit, value: numbers.step, n: numbers.n },
    ...(numbers.stepSpread > 0
      ? [{ id: "digit-step-spread", unit, value: numbers.stepSpread, n: numbers.n } satisfies Quantity]
      : []),
    ...(numbers.overall === null ? [] : seriesQuantities(numbers.overall, numbers)),
  ];
}

function groups(numbers: DigitNumbers): GroupReading[] {
  return numbers.teams.map((team) => ({
    by: "team",
    label: team.label,
    n: team.n,
    reading: team.reading,
    quantities: team.series === null ? [] : seriesQuantities(team.series, numbers),
    ...(team.series === null ? {} : { adjustedProbability: team.adjustedProbability }),
  }));
}

/** The check of one measure's last digits: `weight-digits`, `height-digits` and `arm-digits` differ only in their measure. */
export function digitCheck(measure: DigitMeasure): Check<DigitNumbers> {
  return {
    id: `${measure.name}-digits`,
    section: "how",
    needs: [measure.name satisfies Need],
    sources: [
      "digit-preference-score",
      "dissimilarity-index",
      "benjamini-hochberg-1995",
      "digit-noise",
      "rounding-variance",
      ...(measure.name === "weight" ? [] : (["measure-to-a-millimetre"] as const)),
    ],
    compute: ({ children }) => {
      const column = children[measure.name];
      const found = column === null ? "few" : digitNumbers(children, column, measure);
      if (found === "few" || found === "constant")
        return { cannotTell: message(`${common}.unknown.${found}`, { measure: measure.name }) };
      if (found.overall === null && judgeStep(found) === "expected") {
        return { cannotTell: message(`${common}.unknown.${found.untestable}`, { measure: measure.name }) };
      }
      return found;
    },
    judge: judgeDigits,
    quantities,
    groups,
    say,
    charts,
    tables,
  };
}
