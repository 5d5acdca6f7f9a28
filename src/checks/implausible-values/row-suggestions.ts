import { withinMonths } from "../../derive/age.js";
import { type Children, type IndexId, indexIds, noScoreReasons } from "../../derive/children.js";
import { deriveScores, type Scores } from "../../derive/scores.js";
import type { Message } from "../../results/schema.js";
import { type AgeSettings, type Change, changes } from "./row-changes.js";
import type { Suspects } from "./suspects.js";

/**
 * A change is offered only where it brings every z-score of the child this close to the survey's own mean. Judgement:
 * 97 in 100 children lie within 2.5 standard deviations in one index; a wider limit would find an explanation for
 * children who are truly very small. `tests/checks/row-suggestions.test.ts` counts right, wrong and withheld suggestions.
 */
export const nearCentre = 2.5;

const outsideTable = noScoreReasons.indexOf("outside-table");

/** Mean z-score of each index in the survey; the standard's own 0 where there is none. */
type Centres = Readonly<Record<IndexId, number>>;

function centresOf(children: Children): Centres {
  const centre = (index: IndexId): number => children.indices[index].centre;
  return Object.fromEntries(
    indexIds.map((index) => [index, Number.isNaN(centre(index)) ? 0 : centre(index)]),
  ) as Centres;
}

/**
 * Whether one record fits: every index that has a z-score is inside the fixed limits and near the survey's mean, there
 * is at least one, no index is lost by the change, and no measure lies outside the growth standard's tables (which hold
 * no arms under three months).
 */
function fits(before: Scores, after: Scores, row: number, centres: Centres): boolean {
  let computed = 0;
  for (const index of indexIds) {
    const { z, why, outsideFixed } = after.indices[index];
    const lost = why[row] === outsideTable || (why[row] !== 0 && before.indices[index].why[row] === 0);
    if (lost && index !== "arm-for-age") return false;
    if (why[row] !== 0) continue;
    computed++;
    if (outsideFixed[row] === 1 || Math.abs((z[row] as number) - centres[index]) > nearCentre) return false;
  }
  return computed > 0;
}

/** The records that one change makes plausible, 1 each. */
function explained(
  change: Change,
  suspects: Suspects,
  before: Scores,
  centres: Centres,
  ages: AgeSettings["ageRange"],
): { readonly fitting: Uint8Array; readonly changed: Suspects } {
  const { applies, columns } = change.make(suspects);
  const changed: Suspects = { ...suspects, ...columns };
  const scores = deriveScores(changed);
  const fitting = applies.map((one, row) => {
    const days = changed.ageDays[row] as number;
    const inRange = Number.isNaN(days) || withinMonths(days, ages.from, ages.to);
    return one === 1 && inRange && fits(before, scores, row, centres) ? 1 : 0;
  });
  return { fitting, changed };
}

/**
 * What may have gone wrong in each record: the one change that brings all z-scores of the child near the survey's mean,
 * within its age range. Null where no change does, or more than one. Never applied: the team looks at the form.
 */
export function suggestionsFor(suspects: Suspects, children: Children, settings: AgeSettings): (Message | null)[] {
  const centres = centresOf(children);
  const before = deriveScores(suspects);
  const found = new Array<Message | null>(suspects.sex.length).fill(null);
  const fitting = new Uint8Array(suspects.sex.length);
  for (const change of changes(children, settings)) {
    const one = explained(change, suspects, before, centres, settings.ageRange);
    one.fitting.forEach((fits, row) => {
      if (fits === 0) return;
      fitting[row] = (fitting[row] as number) + 1;
      found[row] = fitting[row] === 1 ? change.say(suspects, one.changed, row) : null;
    });
  }
  return found;
}
