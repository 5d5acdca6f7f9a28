import { bridgesOf, type Edge } from "../stats/bridges.js";
import { withholdBelow } from "./cell.js";
import type { Grouping } from "./groups.js";

/**
 * Which groups have to be withheld besides those that are too small, so that nothing about fewer than `withholdBelow`
 * children of one group can be worked out from what is shown: by subtraction from the total within a split, or between
 * two splits of the same children.
 *
 * Within a split: the groups withheld are at least two and hold at least `withholdBelow` children together; else the
 * smallest of the others joins them.
 *
 * Between two splits (areas and strata, say): the children who are in group i of one and group j of the other are a cell
 * of the cross table whose margins are shown. Such a cell can be worked out exactly when its edge is a bridge of the graph
 * with the groups as nodes and the cells as edges, every withheld group tied to the common sum of its split's withheld
 * groups (Gusfield, SIAM Journal on Computing 1988;17:552-71, a graph theoretic approach to statistical data security:
 * from memory, not read). A group less all groups of the other split that lie wholly in it is checked as well.
 *
 * Children without a group are no group that anybody could be placed in, and are not protected. Three or more splits
 * together are not looked at.
 */
export function protectedGroups(groupings: readonly Grouping[], domain: Uint8Array): readonly ReadonlySet<number>[] {
  const splits = groupings.map((grouping) => splitOf(grouping, domain));
  for (let changed = true; changed; ) {
    for (const split of splits) protectWithin(split);
    changed = false;
    for (let a = 0; a < splits.length && !changed; a++) {
      for (let b = a + 1; b < splits.length && !changed; b++) {
        changed = protectBetween(splits[a] as Split, splits[b] as Split, domain);
      }
    }
  }
  return splits.map(({ hidden, sizes }) => new Set([...hidden].filter((group) => !isSmall(sizes[group] ?? 0))));
}

/** One way to split the children of an estimate. */
interface Split {
  readonly codes: Int32Array;
  /** Children of the estimate in each group. */
  readonly sizes: Float64Array;
  /** All children in each group: the order in which groups are withheld, alike for all estimates. */
  readonly whole: Float64Array;
  readonly hidden: Set<number>;
}

const isSmall = (n: number): boolean => n > 0 && n < withholdBelow;

function splitOf({ codes, labels }: Grouping, domain: Uint8Array): Split {
  const sizes = new Float64Array(labels.length);
  const whole = new Float64Array(labels.length);
  for (let i = 0; i < codes.length; i++) {
    const code = codes[i] as number;
    if (code < 0) continue;
    whole[code] = (whole[code] as number) + 1;
    sizes[code] = (sizes[code] as number) + (domain[i] as number);
  }
  const hidden = new Set<number>();
  sizes.forEach((n, group) => {
    if (isSmall(n)) hidden.add(group);
  });
  return { codes, sizes, whole, hidden };
}

/** The smallest group that is shown; -1 where none is. */
function smallestShown({ sizes, whole, hidden }: Split): number {
  let found = -1;
  for (let group = 0; group < sizes.length; group++) {
    if (sizes[group] === 0 || hidden.has(group)) continue;
    if (found < 0 || (whole[group] as number) < (whole[found] as number)) found = group;
  }
  return found;
}

function protectWithin(split: Split): void {
  const { hidden, sizes } = split;
  while (hidden.size > 0) {
    let together = 0;
    for (const group of hidden) together += sizes[group] as number;
    if (hidden.size > 1 && together >= withholdBelow) return;
    const next = smallestShown(split);
    if (next < 0) return;
    hidden.add(next);
  }
}

/** A cell of the cross table of two splits. */
interface CrossCell {
  readonly one: number;
  readonly other: number;
  readonly n: number;
}

function crossCells(one: Split, other: Split, domain: Uint8Array): CrossCell[] {
  const width = other.sizes.length + 1;
  const counts = new Map<number, number>();
  for (let i = 0; i < domain.length; i++) {
    if (domain[i] !== 1) continue;
    const key = ((one.codes[i] as number) + 1) * width + (other.codes[i] as number) + 1;
    counts.set(key, (counts.get(key) ?? 0) + 1);
  }
  return [...counts].map(([key, n]) => ({ one: Math.floor(key / width) - 1, other: (key % width) - 1, n }));
}

/**
 * Withholds groups where small cells of the cross table could be worked out; false where none can. One group of every such
 * cell at a time, and none for a cell that one withheld in the same pass may protect already.
 */
function protectBetween(one: Split, other: Split, domain: Uint8Array): boolean {
  const cells = crossCells(one, other, domain);
  const bridges = bridgesOf(graphOf(one, other, cells));
  const open = cells.filter(({ one: i, other: j, n }, at) => i >= 0 && j >= 0 && isSmall(n) && bridges.has(at));
  const before = [new Set(one.hidden), new Set(other.hidden)] as const;
  const isNew = (split: Split, at: 0 | 1, group: number): boolean => split.hidden.has(group) && !before[at].has(group);
  for (const { one: i, other: j } of open) {
    if (isNew(one, 0, i) || isNew(other, 1, j) || (one.hidden.has(i) && other.hidden.has(j))) continue;
    hideOneOf(one, i, other, j);
  }
  if (one.hidden.size > before[0].size || other.hidden.size > before[1].size) return true;
  // Both groups of such a cell are withheld already: then one more of either split.
  if (open.length > 0 && (hideSmallest(one) || hideSmallest(other))) return true;
  return hideRemainders(one, other, cells) || hideRemainders(other, one, cells.map(turned));
}

function hideSmallest(split: Split): boolean {
  const group = smallestShown(split);
  if (group >= 0) split.hidden.add(group);
  return group >= 0;
}

const turned = ({ one, other, n }: CrossCell): CrossCell => ({ one: other, other: one, n });

/** Withholds the smaller of two groups, or the one that is still shown. */
function hideOneOf(one: Split, i: number, other: Split, j: number): void {
  const first = other.hidden.has(j) || (!one.hidden.has(i) && (one.whole[i] as number) <= (other.whole[j] as number));
  if (first) one.hidden.add(i);
  else other.hidden.add(j);
}

/** Groups shown, less the groups shown of the other split that lie wholly in them: small rests are protected. */
function hideRemainders(one: Split, other: Split, cells: readonly CrossCell[]): boolean {
  const rest = new Float64Array(one.sizes.length);
  const holdsAny = new Uint8Array(one.sizes.length);
  for (const { one: group, other: j, n } of cells) {
    if (group < 0 || j < 0) continue;
    if (!other.hidden.has(j) && n === other.sizes[j]) holdsAny[group] = 1;
    else rest[group] = (rest[group] as number) + n;
  }
  const before = one.hidden.size;
  rest.forEach((n, group) => {
    if (holdsAny[group] === 1 && isSmall(n)) one.hidden.add(group);
  });
  return one.hidden.size > before;
}

/** Nodes: groups of both splits (and the children without one), and the sum of the withheld groups of each. */
function graphOf(one: Split, other: Split, cells: readonly CrossCell[]): readonly Edge[] {
  const second = one.sizes.length + 1;
  const sums = second + other.sizes.length + 1;
  const edges: Edge[] = cells.map(({ one: i, other: j }) => ({ from: i + 1, to: second + j + 1 }));
  for (const group of one.hidden) edges.push({ from: group + 1, to: sums });
  for (const group of other.hidden) edges.push({ from: second + group + 1, to: sums + 1 });
  return edges;
}
