import type { GroupId } from "../../results/group.js";
import { message } from "../../results/message.js";
import type { GroupReading, Quantity } from "../../results/schema.js";
import type { Check, Need } from "../check.js";
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
import { toldOf } from "./told.js";

function seriesQuantities(series: DigitSeries, numbers: DigitNumbers, of: GroupId): Quantity[] {
  const n = series.n;
  const share = (id: string, part: NonNullable<DigitSeries["zeroOrFive"]>): Quantity => ({
    id,
    of,
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
      of,
      unit: "share",
      value: series.dissimilarity,
      n,
      chance: { expected: series.dissimilarityChance.mean, low: 0, high: series.dissimilarityChance.upper95 },
    },
    {
      id: "digit-preference-score",
      of,
      unit: "index",
      value: series.score,
      n,
      chance: { expected: series.scoreChance.mean, low: 0, high: series.scoreChance.upper95 },
    },
    {
      id: "digit-chi-square",
      of,
      unit: "statistic",
      value: series.chiSquare,
      n,
      probability: series.probability,
      chance: { expected: series.degreesOfFreedom },
    },
    { id: "digit-added-spread", of, unit: numbers.measure.unit, value: series.addedSpread, n },
  ];
}

function quantities(numbers: DigitNumbers): Quantity[] {
  const { of } = numbers;
  const unit = numbers.measure.unit;
  return [
    { id: "digit-step", of, unit, value: numbers.step, n: numbers.n },
    ...(numbers.stepSpread > 0
      ? [{ id: "digit-step-spread", of, unit, value: numbers.stepSpread, n: numbers.n } satisfies Quantity]
      : []),
    ...(numbers.overall === null ? [] : seriesQuantities(numbers.overall, numbers, of)),
  ];
}

function groups(numbers: DigitNumbers): GroupReading[] {
  return toldOf(numbers.teams).map((team) => ({
    by: "team",
    label: team.label,
    n: team.n,
    of: team.of,
    reading: team.reading,
    quantities: team.series === null ? [] : seriesQuantities(team.series, numbers, team.of),
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
    compute: ({ children, book }) => {
      const column = children[measure.name];
      const found = column === null ? "few" : digitNumbers({ children, book }, column, measure);
      if (found === "few" || found === "constant")
        return { cannotTell: message(`${common}.unknown.${found}`, { measure: measure.name }) };
      if (found.untestable !== null && judgeStep(found) === "expected") {
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
