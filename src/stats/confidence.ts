/** Confidence level of every interval that is printed. */
export const confidenceLevel = 0.95;

/** The percentile at the upper end of a two-sided interval of that level, as a share. */
export const upperPercentile = 0.975;

/** The standard normal deviate at that percentile. */
export const upperNormal = 1.959963984540054;

/** Probability below which a difference counts as clear, after control over the number of comparisons where there are several. */
export const significanceLevel = 0.05;
