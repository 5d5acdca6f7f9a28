/** Estimates that a comparison is made of where the settings name none, in the order they are told. */
export const headlineEstimates: readonly string[] = [
  "wasting",
  "acute-malnutrition-combined",
  "acute-malnutrition-by-weight-for-height",
  "acute-malnutrition-by-arm-circumference",
  "stunting",
  "underweight",
  "overweight",
  "mean-weight-for-height",
  "mean-height-for-age",
];
