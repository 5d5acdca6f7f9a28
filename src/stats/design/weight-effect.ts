import type { SurveyDesign } from "./survey-design.js";

/**
 * Kish's design effect of unequal weights over a domain: n sum w^2 / (sum w)^2, 1 for equal weights. NaN for an empty
 * domain. Source: Kish, Survey Sampling, 1965.
 *
 * @param inDomain 1 in, 0 out
 */
export function weightEffect(design: SurveyDesign, inDomain: Uint8Array): number {
  let n = 0;
  let sum = 0;
  let squares = 0;
  for (let i = 0; i < design.count; i++) {
    const w = design.weight[i] as number;
    if (inDomain[i] !== 1 || !(w > 0)) continue;
    n++;
    sum += w;
    squares += w * w;
  }
  return (n * squares) / sum ** 2;
}
