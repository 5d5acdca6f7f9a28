import type { IndexId } from "../../derive/children.js";

/** What the standard deviation of an index is held against. */
export interface SpreadReference {
  readonly index: IndexId;
  /** Beyond this line, with the whole interval, the spread needs explaining. */
  readonly explainAbove: number;
  /** Beyond this line, with the whole interval, it casts doubt. */
  readonly doubtAbove: number;
  /** 5th to 95th percentile of observed surveys, where published. */
  readonly observed: { readonly low: number; readonly high: number } | null;
}

/** A research-grade study measured standard deviations of 0.92 to 1.07 in all indices: Conkle et al. 2017, confirmed. */
export const researchGrade = { low: 0.92, high: 1.07 } as const;

/** What 'high-quality conditions including intensive training and supervision' give: Grange, Mock and Collins 2024, confirmed. */
export const expectedOfCarefulMeasuring = { low: 0.8, high: 1.2 } as const;

/**
 * An interval wholly below this line is unusually narrow. Lower end of the range seen in 701 surveys for arm-for-age
 * (Bilukha and Kianian 2023, confirmed); for the other indices common practice, no source.
 */
export const narrowBelow = 0.8;

/**
 * `observed` and `doubtAbove`: 5th and 95th percentiles of 51 national surveys (Mei and Grummer-Strawn 2007, confirmed).
 * Those surveys were not free of error: the percentiles say what is common, not what is good.
 * `explainAbove`: 1.2 for weight-for-height is common practice without a source; the same line is taken for
 * weight-for-age, our judgement. Arm-for-age: upper end of the range of 701 surveys (Bilukha and Kianian 2023,
 * confirmed); its doubt line is the one of weight-for-height, our judgement. Height-for-age: the 5th percentile of the
 * observed surveys, since errors of age widen it in all of them; our judgement.
 */
export const spreadReferences: readonly SpreadReference[] = [
  { index: "weight-for-height", explainAbove: 1.2, doubtAbove: 1.5, observed: { low: 1.08, high: 1.5 } },
  { index: "height-for-age", explainAbove: 1.35, doubtAbove: 1.95, observed: { low: 1.35, high: 1.95 } },
  { index: "weight-for-age", explainAbove: 1.2, doubtAbove: 1.46, observed: { low: 1.17, high: 1.46 } },
  { index: "arm-for-age", explainAbove: 1.2, doubtAbove: 1.5, observed: null },
];
