import type { Children } from "../../src/derive/children.js";
import { randomStream } from "../../src/stats/random.js";
import { makeChildren, plainCurve } from "./make-children.js";

export interface CleanSurveyGiven {
  readonly seed: number;
  /** Defaults to 36 clusters of 25 children. */
  readonly clusters?: number;
  readonly perCluster?: number;
  /** Defaults to 6; each works in whole clusters, in turn over the areas. */
  readonly teams?: number;
  /** Standard deviation of every z-score among children; defaults to 1. */
  readonly standardDeviation?: number;
  /** Intracluster correlation; defaults to 0.021, a design effect of 1.5 at 25 children a cluster. */
  readonly intraclusterCorrelation?: number;
  /** Ages in whole months instead of birth dates. */
  readonly monthsOnly?: boolean;
}

/**
 * A survey without faults, invented: clusters differ a little, ages follow births growing by 2% a year and 60 deaths
 * per 1,000 before five, 1-2% of values are missing (more in some clusters than in others), one child in a hundred is
 * measured in the other position. Weights and heights come from plain curves of the right size, z-scores are drawn.
 */
export function cleanSurvey(given: CleanSurveyGiven): Children {
  const random = randomStream(given.seed);
  const clusters = given.clusters ?? 36;
  const perCluster = given.perCluster ?? 25;
  const teams = given.teams ?? 6;
  const sd = given.standardDeviation ?? 1;
  const rho = given.intraclusterCorrelation ?? 0.021;
  const count = clusters * perCluster;
  const clusterOf = (i: number): number => Math.floor(i / perCluster);
  const teamOf = (i: number): number => clusterOf(i) % teams;
  const column = (draw: (i: number) => number): Float64Array => Float64Array.from({ length: count }, (_, i) => draw(i));
  const clustered = (mean: number): Float64Array => {
    const shift = Array.from({ length: clusters }, () => random.normal() * Math.sqrt(rho));
    return column((i) => mean + sd * ((shift[clusterOf(i)] as number) + Math.sqrt(1 - rho) * random.normal()));
  };
  // A cluster's chance of missing values is log-normal with the variance that the intracluster correlation asks for.
  const gaps = (share: number): Uint8Array => {
    const sigma = Math.sqrt(Math.log(1 + (rho * (1 - share)) / share));
    const chance = Array.from(
      { length: clusters },
      () => share * Math.exp(sigma * random.normal() - (sigma * sigma) / 2),
    );
    return Uint8Array.from({ length: count }, (_, i) => (random.uniform() < (chance[clusterOf(i)] as number) ? 1 : 0));
  };
  const ageDay = (): number => {
    for (;;) {
      const days = random.below(1826);
      const years = days / 365.25;
      const dead =
        years < 1 / 12
          ? 0.45 * years * 12
          : years < 1
            ? 0.45 + (0.3 * (years - 1 / 12)) / (11 / 12)
            : 0.75 + (0.25 * (years - 1)) / 4;
      if (random.uniform() < (1 - 0.06 * dead) * Math.exp(-0.02 * years)) return days;
    }
  };
  const ageDays = column(ageDay);
  const completed = ageDays.map((days) => Math.floor(days / 30.4375));
  const months = given.monthsOnly ? completed.map((m) => m + 0.5) : ageDays.map((days) => days / 30.4375);
  const heightZ = clustered(-1.1);
  const weightZ = clustered(-0.7);
  const shared = clustered(0);
  const armZ = weightZ.map((z, i) => -0.7 + 0.6 * (z + 0.7) + 0.8 * (shared[i] as number));
  const weightForAge = weightZ.map((z, i) => -1.1 + 0.6 * (z + 0.7) + 0.8 * (heightZ[i] as number) * 0.7);
  const tall = months.map((m, i) => plainCurve.height(m) * (1 + 0.037 * (heightZ[i] as number)));
  const heavy = tall.map((h, i) => plainCurve.weight(h) * (1 + 0.09 * (weightZ[i] as number)));
  const arms = months.map((m, i) => plainCurve.arm(m) + 11 * (armZ[i] as number));
  const [noSex, noAge, noWeight, noHeight, noArm, noPosition, noOedema] = [
    0.003, 0.012, 0.012, 0.015, 0.015, 0.01, 0.01,
  ].map(gaps) as [Uint8Array, Uint8Array, Uint8Array, Uint8Array, Uint8Array, Uint8Array, Uint8Array];
  const unless = (gap: Uint8Array, values: ArrayLike<number>): Float64Array =>
    column((i) => (gap[i] === 1 ? Number.NaN : (values[i] as number)));
  const sex = column((i) => (noSex[i] === 1 ? 0 : random.uniform() < 1.05 / 2.05 ? 1 : 2));
  const either = (...columns: Uint8Array[]): Uint8Array =>
    Uint8Array.from({ length: count }, (_, i) => (columns.some((c) => c[i] === 1) ? 1 : 0));
  const interviewDay = column((i) => 19800 + 3 * Math.floor(clusterOf(i) / teams) + (i % 3));
  const known = column(() => random.uniform());
  return makeChildren({
    count,
    sex,
    ageDays: unless(noAge, given.monthsOnly ? months.map((m) => m * 30.4375) : ageDays),
    ageMonths: unless(noAge, months),
    interviewDay,
    birthDay: given.monthsOnly
      ? null
      : column((i) => (noAge[i] === 1 ? Number.NaN : (interviewDay[i] as number) - (ageDays[i] as number))),
    ageKnownHow: (i) => (noAge[i] === 1 ? null : (known[i] as number) < 0.7 ? "documented" : "recalled"),
    weight: unless(
      noWeight,
      heavy.map((w) => Math.round(w * 10) / 10),
    ),
    height: unless(
      noHeight,
      tall.map((h) => Math.round(h * 10) / 10),
    ),
    arm: column((i) => (noArm[i] === 1 || (months[i] as number) < 6 ? Number.NaN : Math.round(arms[i] as number))),
    position: column((i) =>
      noPosition[i] === 1 ? 0 : (ageDays[i] as number) < 731 === random.uniform() < 0.99 ? 1 : 2,
    ),
    oedema: column((i) => (noOedema[i] === 1 ? 2 : random.uniform() < 0.004 ? 1 : 0)),
    cluster: (i) => `C${clusterOf(i) + 1}`,
    area: (i) => `A${(Math.floor(clusterOf(i) / teams) % 3) + 1}`,
    team: (i) => `T${teamOf(i) + 1}`,
    household: (i) => `H${Math.floor(i / 2)}`,
    z: {
      "weight-for-height": unless(either(noSex, noWeight, noHeight), weightZ),
      "height-for-age": unless(either(noSex, noAge, noHeight), heightZ),
      "weight-for-age": unless(either(noSex, noAge, noWeight), weightForAge),
      "arm-for-age": column((i) =>
        noSex[i] === 1 || noAge[i] === 1 || noArm[i] === 1 || (months[i] as number) < 6
          ? Number.NaN
          : (armZ[i] as number),
      ),
    },
  });
}
