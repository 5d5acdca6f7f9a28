import type { CodedColumn } from "../columns/survey.js";
import type { CheckId } from "../results/check-ids.js";
import { isConcern } from "../results/reading.js";
import type { CheckResult } from "../results/schema.js";
import type { World } from "./scenario.js";

/** Ways to group children that checks know, most telling first. */
const ways = ["stratum", "area", "team", "age-known-how"] as const;
type Way = (typeof ways)[number];

function columnFor({ children }: World, by: Way): CodedColumn | null {
  if (by === "age-known-how") return children.ageKnownHow;
  return children[by];
}

/** Masks of the groups that the check names in these ways; a child of two of them stands in the first only. */
function masksOf(world: World, result: CheckResult, by: readonly Way[]): Uint8Array[] {
  const taken = new Uint8Array(world.children.count);
  return by.flatMap((way) => {
    const column = columnFor(world, way);
    const named = result.groups.filter((group) => group.by === way && isConcern(group.reading));
    if (column === null) return [];
    return named.flatMap((group) => {
      const code = column.publicLabels.indexOf(group.label);
      if (code < 0) return [];
      const mask = Uint8Array.from(column.codes, (own, i) => (own === code && taken[i] === 0 ? 1 : 0));
      for (let i = 0; i < mask.length; i++) if (mask[i] === 1) taken[i] = 1;
      return [mask];
    });
  });
}

/**
 * The children a check's finding is about, as one mask (1 = affected) per group: the strata, areas, teams or ways of
 * knowing the age that the check reads as needing explaining or worse, while others of the same kind look as expected.
 * Where a fault in one district makes all teams look unusual, this finds the district. Where no kind of group sets some
 * apart, all named groups; all children where none is named. Empty where the check found nothing.
 */
export function affectedGroups(world: World, checkId: CheckId): readonly Uint8Array[] {
  const result = world.checks.get(checkId);
  if (result === undefined || !isConcern(result.reading)) return [];
  const telling = ways.filter((way) => result.groups.some((group) => group.by === way && group.reading === "expected"));
  const apart = masksOf(world, result, telling);
  if (apart.length > 0) return apart;
  const named = masksOf(world, result, ways);
  return named.length > 0 ? named : [new Uint8Array(world.children.count).fill(1)];
}
