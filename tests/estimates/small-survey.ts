import { makeDesign, type SurveyDesign } from "../../src/stats/design/survey-design.js";

/** Stratum, weight, size and cases of each cluster. */
export type Clusters = readonly (readonly [stratum: number, weight: number, size: number, cases: number])[];

/**
 * Two strata of four clusters; the second stratum weighs 2.5. Made up, worked out outside this project with a
 * delete-one-cluster jackknife beside it; not published.
 */
export const twoStrata: Clusters = [
  [0, 1, 10, 2],
  [0, 1, 12, 1],
  [0, 1, 9, 3],
  [0, 1, 11, 0],
  [1, 2.5, 10, 3],
  [1, 2.5, 8, 1],
  [1, 2.5, 12, 5],
  [1, 2.5, 10, 2],
];

export interface SmallSurvey {
  readonly design: SurveyDesign;
  readonly isCase: Uint8Array;
  readonly stratum: readonly number[];
  readonly everyone: Uint8Array;
}

export function surveyOf(clusters: Clusters): SmallSurvey {
  const rows = clusters.flatMap(([stratum, weight, size, cases], cluster) =>
    Array.from({ length: size }, (_, i) => ({ stratum, weight, cluster, isCase: i < cases ? 1 : 0 })),
  );
  return {
    design: makeDesign({
      count: rows.length,
      cluster: rows.map((row) => row.cluster),
      stratum: rows.map((row) => row.stratum),
      weight: rows.map((row) => row.weight),
    }),
    isCase: Uint8Array.from(rows, (row) => row.isCase),
    stratum: rows.map((row) => row.stratum),
    everyone: new Uint8Array(rows.length).fill(1),
  };
}

/** Clusters of one stratum and weight 1: size and cases of each. */
export function plainClusters(sizes: readonly (readonly [size: number, cases: number])[]): SmallSurvey {
  return surveyOf(sizes.map(([size, cases]) => [0, 1, size, cases] as const));
}
