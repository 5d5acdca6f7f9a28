import type { CodedColumn } from "../describe/survey.js";
import type { World } from "./scenario.js";

const serious = (reading: string): boolean => reading === "explain" || reading === "doubt";

function columnFor(world: World, by: string): CodedColumn | null {
  const { team, area, stratum } = world.children;
  if (by === "team") return team;
  if (by === "area") return area;
  return by === "stratum" ? stratum : null;
}

/**
 * The children a check's finding is about, as one mask (1 = affected) per group: the teams or areas that the check reads
 * as needing explaining or worse; all children where it says so of the survey but of no single group. Areas are taken
 * before teams where both are named, so that no child is affected twice. Empty where the check found nothing.
 */
export function affectedGroups(world: World, checkId: string): readonly Uint8Array[] {
  const result = world.checks.get(checkId);
  if (result === undefined || !serious(result.reading)) return [];
  const everyone = new Uint8Array(world.children.count).fill(1);
  for (const by of ["area", "stratum", "team"]) {
    const column = columnFor(world, by);
    const named = result.groups.filter((group) => group.by === by && serious(group.reading));
    if (column === null || named.length === 0) continue;
    return named.map((group) => {
      const code = column.publicLabels.indexOf(group.label);
      return Uint8Array.from(column.codes, (own) => (own === code ? 1 : 0));
    });
  }
  return [everyone];
}
