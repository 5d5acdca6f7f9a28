import type { CodedColumn } from "../describe/survey.js";
import type { World } from "./scenario.js";

const serious = (reading: string): boolean => reading === "explain" || reading === "doubt";

function columnFor({ children }: World, by: string): CodedColumn | null {
  if (by === "team") return children.team;
  if (by === "area") return children.area;
  if (by === "age-known-how") return children.ageKnownHow;
  return by === "stratum" ? children.stratum : null;
}

/**
 * The children a check's finding is about, as one mask (1 = affected) per group: the areas, strata, teams or ways of
 * knowing the age that the check reads as needing explaining or worse; all children where it says so of the survey but
 * of no single group. A child of two such groups stands in the first only. Empty where the check found nothing.
 */
export function affectedGroups(world: World, checkId: string): readonly Uint8Array[] {
  const result = world.checks.get(checkId);
  if (result === undefined || !serious(result.reading)) return [];
  const { count } = world.children;
  const taken = new Uint8Array(count);
  const masks: Uint8Array[] = [];
  for (const by of ["area", "stratum", "team", "age-known-how"]) {
    const column = columnFor(world, by);
    if (column === null) continue;
    for (const group of result.groups) {
      const code = column.publicLabels.indexOf(group.label);
      if (group.by !== by || !serious(group.reading) || code < 0) continue;
      const mask = Uint8Array.from(column.codes, (own, i) => (own === code && taken[i] === 0 ? 1 : 0));
      mask.forEach((inside, i) => {
        if (inside === 1) taken[i] = 1;
      });
      masks.push(mask);
    }
  }
  return masks.length > 0 ? masks : [new Uint8Array(count).fill(1)];
}
