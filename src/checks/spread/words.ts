import { message } from "../../results/message.js";
import { isConcern } from "../../results/reading.js";
import type { Message, Reading } from "../../results/schema.js";
import type { Said } from "../check.js";
import { fewestForSpread, type GroupSpread, type IndexSpread } from "./numbers.js";
import { narrowBelow, researchGrade } from "./reference.js";

/** The spreads of all indices, and of each group. */
export interface SpreadNumbers {
  readonly indices: readonly IndexSpread[];
  readonly groups: readonly GroupSpread[];
}

type PlaceOrTeam = GroupSpread & { readonly by: "team" | "area" | "stratum" };

const isPlaceOrTeam = (group: GroupSpread): group is PlaceOrTeam =>
  group.by === "team" || group.by === "area" || group.by === "stratum";

/** Teams and places that need explaining or are in doubt. */
export function noticedGroups(numbers: SpreadNumbers): readonly PlaceOrTeam[] {
  return numbers.groups.filter(isPlaceOrTeam).filter(({ reading }) => isConcern(reading));
}

/** The index the finding speaks of: the one read worst, and of those the one furthest above its line. */
function headline(numbers: SpreadNumbers): IndexSpread | undefined {
  const rank = (one: IndexSpread) => (one.reading === "doubt" ? 2 : one.reading === "explain" ? 1 : 0);
  const beyond = (one: IndexSpread) => Math.abs(Math.log(one.fixed.value / one.reference.explainAbove));
  const noticed = numbers.indices.filter((one) => one.reading !== "expected");
  if (noticed.length === 0) return numbers.indices[0];
  return [...noticed].sort((a, b) => rank(b) - rank(a) || beyond(b) - beyond(a))[0];
}

/** The values of one index that sentences print. */
export function indexValues(one: IndexSpread) {
  return {
    index: message(`index.${one.reference.index}`),
    sd: one.fixed.value,
    low: one.fixed.low,
    high: one.fixed.high,
    n: one.fixed.n,
    around: one.aroundMean?.value ?? 0,
    known: one.aroundMean === null ? "no" : "yes",
    setAside: one.setAsideFixed,
    setAsideAround: one.setAsideAroundMean,
    explainAbove: one.reference.explainAbove,
    doubtAbove: one.reference.doubtAbove,
    narrowBelow,
  };
}

function finding(numbers: SpreadNumbers, reading: Reading): Message {
  const first = headline(numbers);
  if (first === undefined) return message("checks.spread.finding.unknown");
  const groups = noticedGroups(numbers);
  if (reading !== "expected" && first.reading === "expected") {
    return message("checks.spread.finding.groups", {
      groups: groupNames(groups),
      groupCount: new Set(groupNames(groups)).size,
    });
  }
  const kind = first.side === "none" ? "expected" : first.side;
  return message(`checks.spread.finding.${kind}`, { ...indexValues(first), indexCount: numbers.indices.length });
}

function groupNames(groups: readonly GroupSpread[]): string[] {
  return [...new Set(groups.map((group) => group.label))];
}

/** Everything the check says. */
export function say(numbers: SpreadNumbers, reading: Reading): Said {
  const told = (part: string): Message =>
    message(`checks.spread.${part}`, {
      researchLow: researchGrade.low,
      researchHigh: researchGrade.high,
      narrowBelow,
      fewest: fewestForSpread,
    });
  const wide = numbers.indices.some((one) => one.side === "wide");
  const narrow = numbers.indices.some((one) => one.side === "narrow");
  const groups = noticedGroups(numbers);
  const tails = numbers.indices.filter(
    (one) => one.aroundMean !== null && one.fixed.value - one.aroundMean.value > 0.1,
  );
  return {
    finding: finding(numbers, reading),
    meaning: [
      ...numbers.indices.map((one) => message("checks.spread.meaning.index", indexValues(one))),
      ...(wide ? [told("meaning.wide")] : []),
      ...(narrow ? [told("meaning.narrow")] : []),
      ...(tails.length > 0
        ? [
            message("checks.spread.meaning.tails", {
              indices: tails.map((one) => message(`index.${one.reference.index}`)),
            }),
          ]
        : []),
      ...groups.map((group) =>
        message(`checks.spread.meaning.${group.by}`, {
          group: group.label,
          index: message(`index.${group.index}`),
          sd: group.spread.value,
          low: group.spread.low,
          high: group.spread.high,
          n: group.spread.n,
        }),
      ),
      ...(reading === "expected" ? [told("meaning.not-proof")] : []),
    ],
    causes: [
      ...(wide || groups.length > 0 ? [told("cause.real"), told("cause.measuring"), told("cause.age")] : []),
      ...(narrow ? [told("cause.narrow-population"), told("cause.narrow-entry")] : []),
    ],
    actions: [
      ...(wide || groups.length > 0 ? [told("action.compare-groups"), told("action.repeat")] : []),
      ...(narrow ? [told("action.trace")] : []),
    ],
    method: [told("method.statistic"), told("method.lines"), told("method.groups"), told("method.reading")],
  };
}
