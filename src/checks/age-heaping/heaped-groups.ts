import { groupName } from "../../results/group-name.js";
import { message } from "../../results/message.js";
import { isConcern } from "../../results/reading.js";
import type { Message } from "../../results/schema.js";
import type { HeapedGroup } from "./month-heaps.js";

/** Kinds of groups in the order in which they are told: places come before the teams that worked in them. */
const kinds = ["stratum", "area", "team", "age-known-how"] as const;
/** A team is named before a place only where its crowding is this much the stronger: judgement. */
const clearlyStronger = 1.25;
/** Groups of one kind that are named; the table holds all. */
const mostNamed = 3;

const isUnusual = (group: HeapedGroup): boolean => isConcern(group.reading);

/** The unusual groups of a kind, largest ratio first. */
function unusualOf(groups: readonly HeapedGroup[], by: string): HeapedGroup[] {
  return groups.filter((group) => group.by === by && isUnusual(group)).sort((x, y) => (x.ratio > y.ratio ? -1 : 1));
}

/** The one that crowds most; undefined where there is none. */
function strongest(groups: readonly (HeapedGroup | undefined)[]): HeapedGroup | undefined {
  return groups.reduce(
    (most, group) => (group !== undefined && group.excess > (most?.excess ?? 0) ? group : most),
    undefined,
  );
}

/**
 * The group in which crowding is strongest, among kinds of which some groups do not crowd: where all do, none of them
 * explains it. A stratum or area comes before a team, whose children in that place carry its crowding along, unless the
 * team crowds clearly more. How the age was known comes last: it says how, and not where. Null where nothing sets some apart.
 */
export function leadOf(groups: readonly HeapedGroup[]): HeapedGroup | null {
  const [stratum, area, team, source] = kinds.map((by) =>
    groups.some((group) => group.by === by && group.reading === "expected")
      ? strongest(unusualOf(groups, by))
      : undefined,
  );
  const place = strongest([stratum, area]);
  if (place !== undefined && !((team?.excess ?? 0) > clearlyStronger * place.excess)) return place;
  return team ?? source ?? null;
}

/** The group to name when one must be named: the leading one, else the strongest of any kind. */
export function namedFirst(groups: readonly HeapedGroup[]): HeapedGroup | null {
  return leadOf(groups) ?? strongest(groups.filter(isUnusual)) ?? null;
}

/** A group by its kind and name, as it stands in a sentence. */
export function placeName({ by, label }: HeapedGroup): Message {
  return message(`checks.age-heaping.place.${by}`, { label: groupName({ by, label }) });
}

/** How many times the expected number; a ratio without limit, where all stand on a multiple, has no number. */
function timesOf({ ratio, on }: HeapedGroup) {
  const known = Number.isFinite(ratio);
  return { known: known ? "yes" : "no", times: known ? ratio : 0, on };
}

/** The strongest groups of one kind, without the leading one. */
function kindSentence(groups: readonly HeapedGroup[], by: string, lead: HeapedGroup | null): Message[] {
  const own = unusualOf(groups, by).filter((group) => group !== lead);
  if (own.length === 0) return [];
  const named = own
    .slice(0, mostNamed)
    .map((group) => message("checks.age-heaping.group-times", { group: groupName(group), ...timesOf(group) }));
  const kind = message(`checks.who.by.${by}`);
  const more = Math.max(0, own.length - mostNamed);
  const sentence = message("checks.age-heaping.meaning.kind", { kind, groups: named, more });
  const follows = by === "team" && (lead?.by === "stratum" || lead?.by === "area");
  return follows ? [sentence, message("checks.age-heaping.meaning.teams-follow")] : [sentence];
}

/** The sentences on groups: the leading one first, then the strongest of each kind. */
export function groupSentences(groups: readonly HeapedGroup[]): Message[] {
  const lead = leadOf(groups);
  const first =
    lead === null
      ? []
      : [message("checks.age-heaping.meaning.strongest", { place: placeName(lead), ...timesOf(lead) })];
  return [...first, ...kinds.flatMap((by) => kindSentence(groups, by, lead))];
}
