import { type InputProblem, inputProblem } from "../settings/problems.js";
import { type Children, type IndexId, indexIds } from "./children.js";

/** Own rule: from this share of at least so many children on, the columns are not what they are taken for. */
const mostImpossible = 0.25;
const fewestChildren = 50;

function impossible(children: Children, index: IndexId): { readonly n: number; readonly outside: number } {
  const { why, outsideFixed } = children.indices[index];
  let [n, outside] = [0, 0];
  for (let i = 0; i < why.length; i++) {
    if (why[i] !== 0) continue;
    n += 1;
    if (outsideFixed[i] === 1) outside += 1;
  }
  return { n, outside };
}

/**
 * Z-scores that are impossible (outside the fixed limits, as of WHO 2006) in more than a quarter of at least 50 children. The worst
 * measuring leaves a few in a hundred; so many mean pounds, inches, ages in weeks or years, or another column. Named once for
 * all indices, by the one with the largest share.
 */
export function impossibleScores(children: Children, file: string): InputProblem[] {
  const found = indexIds
    .map((index) => ({ index, ...impossible(children, index) }))
    .filter(({ n, outside }) => n >= fewestChildren && outside > mostImpossible * n)
    .sort((a, b) => b.outside / b.n - a.outside / a.n);
  const [worst] = found;
  if (worst === undefined) return [];
  // Words choose by it, and their selectors know no hyphens.
  const index = worst.index.replace(/-(.)/g, (_, letter: string) => letter.toUpperCase());
  const details = { index, outside: worst.outside, n: worst.n };
  return [inputProblem("scores-impossible", file, { details })];
}
