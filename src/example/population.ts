import { daysPerMonth } from "../derive/age.js";
import { normalCumulative } from "../stats/normal.js";
import { type Fieldwork, quillmar } from "./place.js";

/**
 * The true state of the invented population, in z-scores of the growth standard. All of it is invented, set so that
 * wasting is near 10 %, stunting near 30 % and design effects with 25 children a cluster are near 1.3 to 1.6.
 * Variances of one index add up: between clusters, between households of a cluster, between children of a household.
 */
export interface TrueVariances {
  readonly cluster: number;
  readonly household: number;
  readonly child: number;
}

export const weightForHeight = { mean: -0.74, variances: { cluster: 0.045, household: 0.05, child: 0.9 } } as const;

export const heightForAge = { variances: { cluster: 0.035, household: 0.08, child: 0.95 } } as const;

/** Mean height-for-age at an age: children start nearer to the standard and fall behind within the first two years. */
export function meanHeightForAge(ageMonths: number): number {
  return -1.55 + 0.7 * Math.exp(-ageMonths / 8);
}

/** Arm-for-age follows weight-for-height and, less, height-for-age; the rest is the child's own. */
export const armForAge = { mean: -0.85, onWeightForHeight: 0.62, onHeightForAge: 0.22, ownSd: 0.66 } as const;

/** Boys per girl among children born and still alive. */
export const boysPerGirl = 1.04;

/** Deaths before the fifth birthday per 1,000 births, and yearly growth of births. */
export const underFiveMortality = 70;
export const growthOfBirths = 0.025;

/** Children under five: 60 months of 30.4375 days. */
export const ageLimitDays = 1827;

/** Share of births still alive at an age: 45 % of the deaths in the first month, 30 % in the rest of the year, 25 % later. */
function aliveAt(ageMonths: number): number {
  const deaths = underFiveMortality / 1000;
  if (ageMonths < 1) return 1 - deaths * 0.45 * ageMonths;
  if (ageMonths < 12) return 1 - deaths * (0.45 + (0.3 * (ageMonths - 1)) / 11);
  return 1 - deaths * (0.75 + (0.25 * (ageMonths - 12)) / 48);
}

/** Cumulative share of living children by completed day of age; the last entry is 1. */
export const cumulativeAge: Float64Array = (() => {
  const shares = new Float64Array(ageLimitDays);
  let sum = 0;
  for (let day = 0; day < ageLimitDays; day++) {
    const months = (day + 0.5) / daysPerMonth;
    sum += aliveAt(months) * Math.exp((-growthOfBirths * months) / 12);
    shares[day] = sum;
  }
  return shares.map((share) => share / sum);
})();

/** The completed day of age below which a share of the children lies. */
export function ageAtShare(share: number): number {
  let low = 0;
  let high = ageLimitDays - 1;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((cumulativeAge[middle] ?? 1) < share) low = middle + 1;
    else high = middle;
  }
  return low;
}

function total(variances: TrueVariances): number {
  return variances.cluster + variances.household + variances.child;
}

/** What a perfect survey of every child would find. Shares, and z-scores for the means. */
export interface PopulationTruth {
  readonly wasting: number;
  readonly severeWasting: number;
  readonly stunting: number;
  readonly severeStunting: number;
  readonly meanWeightForHeight: number;
  readonly meanHeightForAge: number;
}

/** The population's own figures, summed over districts (by their children) and days of age. */
export function populationTruth({ districts }: Pick<Fieldwork, "districts"> = quillmar): PopulationTruth {
  const children = districts.reduce((sum, district) => sum + district.children, 0);
  const weightSd = Math.sqrt(total(weightForHeight.variances));
  const heightSd = Math.sqrt(total(heightForAge.variances));
  const truth = {
    wasting: 0,
    severeWasting: 0,
    stunting: 0,
    severeStunting: 0,
    meanWeightForHeight: 0,
    meanHeightForAge: 0,
  };
  for (const district of districts) {
    const share = district.children / children;
    const mean = weightForHeight.mean + district.weightForHeightShift;
    truth.wasting += share * normalCumulative((-2 - mean) / weightSd);
    truth.severeWasting += share * normalCumulative((-3 - mean) / weightSd);
    truth.meanWeightForHeight += share * mean;
    for (let day = 0; day < ageLimitDays; day++) {
      const part = share * ((cumulativeAge[day] ?? 1) - (day === 0 ? 0 : (cumulativeAge[day - 1] ?? 0)));
      const heightMean = meanHeightForAge((day + 0.5) / daysPerMonth) + district.heightForAgeShift;
      truth.stunting += part * normalCumulative((-2 - heightMean) / heightSd);
      truth.severeStunting += part * normalCumulative((-3 - heightMean) / heightSd);
      truth.meanHeightForAge += part * heightMean;
    }
  }
  return truth;
}
