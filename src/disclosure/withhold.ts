import { withholdBelow } from "../results/withhold-below.js";
import { Span } from "./span.js";

/** Own rule: where bounds show that a withheld group holds cases, they leave at least so many counts open. */
const narrowest = 3;

const isSmall = (size: number): boolean => size > 0 && size < withholdBelow;

/** Whether two sets of children differ by 1 to 24 children, so that figures of both would tell of these. */
export function differByFew(one: Uint8Array, other: Uint8Array): boolean {
  let differing = 0;
  for (let i = 0; i < one.length; i++) if (one[i] !== other[i]) differing += 1;
  return isSmall(differing);
}

/** A group that might be published, over the atoms: the finest sets of children that the groups tell apart. */
export interface Candidate {
  /** 1 for the atoms in the group. */
  readonly atoms: Uint8Array;
  /** Children in it. */
  readonly size: number;
  /** Parts of one split share it; the whole and groups of other kinds have none. */
  readonly split: string | null;
  /** Of several groups that could be withheld, one with a higher number is; the whole has -1 and is withheld for its own size only. */
  readonly expendable: number;
  /** What stands in the way of withholding it first: among equals the smallest goes, by this measure. */
  readonly weight: number;
}

/** A set of children that must not be worked out. */
interface Target {
  readonly atoms: Uint8Array;
  /** The atoms in it. */
  readonly places: readonly number[];
  readonly size: number;
}

/** Groups of which the same thing may be told. */
export interface Family {
  readonly candidates: readonly Candidate[];
  /** Children of every atom. */
  readonly sizes: ArrayLike<number>;
  /** 1 for atoms of children without a group in some split, who are no group that anybody could be placed in. */
  readonly unplaced: ArrayLike<number>;
  /** Small groups, and small intersections and differences of any two: each set once. */
  readonly targets: readonly Target[];
}

function targetOf(places: readonly number[], sizes: ArrayLike<number>, count: number): Target {
  const atoms = new Uint8Array(count);
  let size = 0;
  for (const k of places) {
    atoms[k] = 1;
    size += sizes[k] as number;
  }
  return { atoms, places, size };
}

/** Puts the groups together with the sets that must not be worked out of them. */
export function familyOf(
  candidates: readonly Candidate[],
  sizes: ArrayLike<number>,
  unplaced: ArrayLike<number>,
): Family {
  const found = new Map<string, Target>();
  const add = (places: readonly number[]): void => {
    const key = places.join(" ");
    if (!found.has(key)) found.set(key, targetOf(places, sizes, sizes.length));
  };
  const places = candidates.map(({ atoms }) => [...atoms.keys()].filter((k) => atoms[k] === 1));
  candidates.forEach((one, i) => {
    const own = places[i] as number[];
    if (isSmall(one.size)) add(own);
    candidates.forEach((other, j) => {
      if (i === j || (one.split !== null && one.split === other.split)) return;
      // Most pairs share many children: sizes are added up first, and a set is made only of a small one.
      let shared = 0;
      for (const k of own) if (other.atoms[k] === 1) shared += sizes[k] as number;
      if (i < j && isSmall(shared)) add(own.filter((k) => other.atoms[k] === 1));
      if (isSmall(one.size - shared)) add(own.filter((k) => other.atoms[k] !== 1));
    });
  });
  return { candidates, sizes, unplaced, targets: [...found.values()] };
}

/** A count of cases that is published, or follows from what is. */
interface Count {
  readonly atoms: Uint8Array;
  readonly size: number;
  readonly cases: number;
  /** Groups of which one is withheld where the count tells too much. */
  readonly from: readonly number[];
}

class Audit {
  readonly hidden: Set<number>;

  constructor(
    private readonly family: Family,
    hiddenBefore: Iterable<number>,
    private readonly cases: ReadonlyMap<number, number>,
  ) {
    this.hidden = new Set(hiddenBefore);
    family.candidates.forEach(({ size }, which) => {
      if (size < withholdBelow) this.hidden.add(which);
    });
  }

  /** Withholds until nothing small is published, can be worked out, or is pinned by bounds. */
  run(spanIsClosed: boolean): ReadonlySet<number> {
    while ((!spanIsClosed && this.#closeSpan()) || this.#closeBounds()) spanIsClosed = false;
    return this.hidden;
  }

  #at(which: number): Candidate {
    return this.family.candidates[which] as Candidate;
  }

  #shown(): number[] {
    return [...this.family.candidates.keys()].filter((which) => !this.hidden.has(which));
  }

  /** The groups of each split that are withheld, taken together. */
  #unions(): { readonly split: string; readonly atoms: Uint8Array }[] {
    const unions = new Map<string, Uint8Array>();
    for (const which of this.hidden) {
      const { split, atoms } = this.#at(which);
      if (split === null) continue;
      const union = unions.get(split) ?? new Uint8Array(atoms.length);
      for (let k = 0; k < atoms.length; k++) if (atoms[k] === 1) union[k] = 1;
      unions.set(split, union);
    }
    return [...unions].map(([split, atoms]) => ({ split, atoms }));
  }

  #small(atoms: ArrayLike<number>): Target[] {
    const { sizes } = this.family;
    const places: number[] = [];
    for (let k = 0; k < atoms.length; k++) if (atoms[k] === 1) places.push(k);
    const target = targetOf(places, sizes, atoms.length);
    return isSmall(target.size) ? [target] : [];
  }

  /** Sets that elimination brings out, but those of children whose cell of a split is empty: no group holds them. */
  #eliminated(span: Span): Target[] {
    const placed = (atoms: Float64Array): boolean => atoms.some((one, k) => one === 1 && this.family.unplaced[k] !== 1);
    return span
      .sets()
      .filter(placed)
      .flatMap((atoms) => this.#small(atoms));
  }

  /** Withholds one of several groups: the most expendable, then the lightest. False where none can be. */
  #hideOne(among: readonly number[]): boolean {
    const able = among.filter((which) => !this.hidden.has(which) && this.#at(which).expendable !== -1);
    const [first, ...others] = able;
    if (first === undefined) return false;
    const found = others.reduce((best, which) => {
      const [a, b] = [this.#at(which), this.#at(best)];
      if (a.expendable !== b.expendable) return a.expendable > b.expendable ? which : best;
      return a.weight < b.weight ? which : best;
    }, first);
    this.hidden.add(found);
    return true;
  }

  #closeSpan(): boolean {
    const shown = this.#shown();
    const span = new Span(shown.map((which) => this.#at(which).atoms));
    const unions = this.#unions().flatMap(({ atoms }) => this.#small(atoms));
    let changed = false;
    for (const { atoms, places } of [...this.family.targets, ...unions, ...this.#eliminated(span)]) {
      const sources = span.sourcesOf(atoms, places)?.map((which) => shown[which] as number) ?? [];
      // What an earlier one of this round protects already is left for the next round.
      if (sources.length === 0 || sources.some((which) => this.hidden.has(which))) continue;
      changed = this.#hideOne(sources) || changed;
    }
    return changed;
  }

  /** Published counts, with those of the withheld groups of each split taken together, which follow from them. */
  #counts(): Count[] {
    const shown = this.#shown();
    const counted = shown.flatMap((which): Count[] => {
      const cases = this.cases.get(which);
      const { atoms, size } = this.#at(which);
      return cases === undefined ? [] : [{ atoms, size, cases, from: [which] }];
    });
    const whole = shown.find((which) => this.#at(which).expendable === -1);
    const all = whole === undefined ? undefined : this.cases.get(whole);
    if (whole === undefined || all === undefined) return counted;
    const rests = this.#unions().map(({ split }): Count => {
      const from = shown.filter((which) => this.#at(which).split === split);
      const told = (k: number): boolean => from.some((which) => this.#at(which).atoms[k] === 1);
      const atoms = this.#at(whole).atoms.map((inside, k) => (told(k) ? 0 : inside));
      const size = from.reduce((sum, which) => sum - this.#at(which).size, this.#at(whole).size);
      return { atoms, size, cases: from.reduce((sum, which) => sum - (this.cases.get(which) ?? 0), all), from };
    });
    return [...counted, ...rests];
  }

  #closeBounds(): boolean {
    if (this.cases.size === 0) return false;
    const counts = this.#counts();
    for (const { places, size } of this.family.targets) {
      const around = counts.filter((one) => places.every((k) => one.atoms[k] === 1));
      const least = around.map((one) => one.cases - (one.size - size));
      const low = Math.max(0, ...least);
      const high = Math.min(size, ...around.map(({ cases }) => cases));
      if (low < 1 || high - low >= narrowest) continue;
      const tightest = around[least.indexOf(low)];
      if (tightest !== undefined && this.#hideOne(tightest.from)) return true;
    }
    return false;
  }
}

/**
 * Which groups of a family must be withheld, so that of no set of 1 to 24 children anything is told:
 *
 * (a) no group of 1 to 24 children is published;
 * (b) none of the small sets looked at lies in the span of what is published: the groups themselves, the intersections and
 *     differences of any two, the withheld groups of a split together, and whatever elimination brings out;
 * (c) where counts of cases of a health outcome are published (`cases`, by the position of the group): from each count, and
 *     from 0 <= cases <= children, the cases of a small set cannot be shown to be more than none within an interval of fewer
 *     than `narrowest` counts. That a published group has no case, so that no part of it has one, is accepted.
 *
 * `hiddenBefore` are withheld already; with `spanIsClosed` they are known to satisfy (a) and (b). Positions in the family's
 * candidates come back.
 */
export function groupsToWithhold(
  family: Family,
  hiddenBefore: Iterable<number> = [],
  { cases = new Map<number, number>(), spanIsClosed = false } = {},
): ReadonlySet<number> {
  return new Audit(family, hiddenBefore, cases).run(spanIsClosed);
}
