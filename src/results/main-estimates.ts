/** The prevalences that claims are made of, and that every scenario and repair re-estimates. */
export const mainEstimateIds = [
  "wasting",
  "severe-wasting",
  "acute-malnutrition-by-weight-for-height",
  "acute-malnutrition-by-arm-circumference",
  "stunting",
  "underweight",
  "overweight",
] as const;

/** The estimate a reader looks for first: the first of these that the survey has. */
export const headlineOrder = ["wasting", "acute-malnutrition-by-arm-circumference", "stunting", "underweight"] as const;

/** Told beside it on the first page. */
export const besideHeadline = ["acute-malnutrition-combined", "stunting"] as const;

/** A percentage with its sign, '8%' or '12,5 %', as a share above 0 and below 1; null where it is none. */
export function shareOfPercentage(text: string): number | null {
  const found = /^\s*(\d{1,2}(?:[.,]\d+)?)\s*%\s*$/.exec(text);
  // Divided once, by a whole number where there is one: 8% is then the very number that a published limit of 8 % is.
  const share = found === null ? Number.NaN : Number((found[1] ?? "").replace(",", ".")) / 100;
  return share > 0 && share < 1 ? share : null;
}
