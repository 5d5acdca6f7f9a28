import type { Children } from "../derive/children.js";
import { withholdBelow } from "../results/withhold-below.js";
import { type Atoms, atomSizes, atomsOf, digest } from "./atoms.js";
import { allSplits } from "./splits.js";
import { type Family, familyOf, groupsToWithhold } from "./withhold.js";

/** Which groups of every split may be told of, for one denominator. */
export interface Screen {
  /** Whether the whole denominator holds enough children. */
  readonly whole: boolean;
  /** `key` is that of the split. A group that holds nobody is not shown. */
  shows(key: string, code: number): boolean;
}

type Split = ReturnType<typeof allSplits>[number];

interface Prepared {
  readonly splits: readonly Split[];
  readonly atoms: Atoms;
  /** 1 for atoms of children without a group in some split. */
  readonly unplaced: Uint8Array;
  /** Children of each group, whatever was measured of them. */
  readonly sizes: readonly Float64Array[];
  /** Groups withheld when all children count: withheld for every denominator, so that estimates agree. */
  readonly hidden: ReadonlySet<string>;
}

const name = (key: string, code: number): string => `${code} ${key}`;

/** The atoms that hold a child of the denominator, with their children. */
interface Filled {
  readonly places: readonly number[];
  readonly sizes: Float64Array;
}

function filled(atoms: Atoms, inDomain: Uint8Array): Filled {
  const sizes = atomSizes(atoms, inDomain);
  const places = [...sizes.keys()].filter((atom) => (sizes[atom] as number) > 0);
  return { places, sizes: Float64Array.from(places, (atom) => sizes[atom] as number) };
}

/** The whole denominator and every group of every split. */
interface Base {
  readonly own: Filled;
  readonly family: Family;
  /** Names of the candidates, the whole's first. */
  readonly names: readonly string[];
  readonly hidden: ReadonlySet<number>;
}

function baseOf(
  prepared: Omit<Prepared, "hidden">,
  inDomain: Uint8Array,
  before: ReadonlySet<string>,
  aboutHealth: boolean,
): Base {
  const { splits, atoms, sizes: everybody } = prepared;
  const own = filled(atoms, inDomain);
  const { places, sizes } = own;
  const sizeOf = (inside: Uint8Array): number => inside.reduce((sum, one, k) => sum + one * (sizes[k] as number), 0);
  const all = new Uint8Array(places.length).fill(1);
  const whole = { name: "whole", atoms: all, size: sizeOf(all), split: null, expendable: -1, weight: 0 };
  const parts = splits.flatMap(({ key, labels }, s) =>
    [...labels.keys(), ...(aboutHealth ? [-1] : [])].map((code) => {
      const inside = Uint8Array.from(places, (atom) => ((atoms.codes[s] as Int32Array)[atom] === code ? 1 : 0));
      const weight = everybody[s]?.[code] ?? 0;
      return { name: name(key, code), atoms: inside, size: sizeOf(inside), split: key, expendable: 0, weight };
    }),
  );
  const candidates = [whole, ...parts.filter(({ size }) => size > 0)];
  const unplaced = Uint8Array.from(places, (atom) => (aboutHealth ? 0 : (prepared.unplaced[atom] as number)));
  const family = familyOf(candidates, sizes, unplaced);
  const names = candidates.map((one) => one.name);
  const known = [...names.keys()].filter(
    (which) => before.has(names[which] as string) || (names[which] as string).startsWith("-1 "),
  );
  return { own, family, names, hidden: groupsToWithhold(family, known) };
}

const namesOf = ({ names }: Base, hidden: ReadonlySet<number>): ReadonlySet<string> =>
  new Set(names.filter((_, which) => hidden.has(which)));

function prepare(children: Children): Prepared {
  const splits = allSplits(children);
  const atoms = atomsOf(
    children.count,
    splits.map(({ codes }) => codes),
  );
  const unplaced = new Uint8Array(atoms.count);
  for (const codes of atoms.codes)
    codes.forEach((code, atom) => {
      if (code < 0) unplaced[atom] = 1;
    });
  const everyone = new Uint8Array(children.count).fill(1);
  const sizes = splits.map(({ codes, labels }) => {
    const own = new Float64Array(labels.length);
    for (const code of codes) if (code >= 0) own[code] = (own[code] as number) + 1;
    return own;
  });
  const without = { splits, atoms, unplaced, sizes };
  const base = baseOf(without, everyone, new Set(), false);
  return { ...without, hidden: namesOf(base, base.hidden) };
}

const prepared = new WeakMap<Children, Prepared>();

function preparedFor(children: Children): Prepared {
  const known = prepared.get(children) ?? prepare(children);
  prepared.set(children, known);
  return known;
}

const bases = new WeakMap<Children, Map<string, Base>>();

/** What does not depend on what is told: the same for every outcome of one denominator. */
function baseFor(children: Children, inDomain: Uint8Array, aboutHealth: boolean): Base {
  const known = bases.get(children) ?? new Map<string, Base>();
  bases.set(children, known);
  const key = `${digest(inDomain)} ${aboutHealth}`;
  const all = preparedFor(children);
  const base = known.get(key) ?? baseOf(all, inDomain, all.hidden, aboutHealth);
  known.set(key, base);
  return base;
}

/** Cases in the whole denominator and in every group, by position. */
function casesOf(children: Children, { own, family }: Base, isCase: Uint8Array): Map<number, number> {
  const inAtoms = atomSizes(preparedFor(children).atoms, isCase);
  const cases = own.places.map((atom) => inAtoms[atom] as number);
  return new Map(
    family.candidates.map(({ atoms }, which) => [
      which,
      cases.reduce((sum, one, k) => sum + one * (atoms[k] as number), 0),
    ]),
  );
}

/** What kind of statement is made. */
export interface Telling {
  /** 1 for cases (never outside the denominator), where a count of them follows from what is published. */
  readonly isCase?: Uint8Array | null;
  /**
   * True where children's health is told of: then the few whose cell of a split is empty are protected as if they were a
   * group. What a check of the measuring counts (a last digit, a missing value) tells nothing of a child.
   */
  readonly aboutHealth?: boolean;
}

/**
 * Which groups may be told of when a statement is made of the children in `inDomain`: see `groupsToWithhold`. With `isCase`
 * the statement is a count of cases, and bounds are kept wide as well. A group that is withheld when
 * everybody counts is withheld always.
 */
export function screenOf(
  children: Children,
  inDomain: Uint8Array,
  { isCase = null, aboutHealth = false }: Telling = {},
): Screen {
  const base = baseFor(children, inDomain, aboutHealth);
  const { family, names } = base;
  const hidden =
    isCase === null
      ? base.hidden
      : groupsToWithhold(family, base.hidden, { cases: casesOf(children, base, isCase), spanIsClosed: true });
  const shown = new Set(names.filter((_, which) => which > 0 && !hidden.has(which)));
  return {
    whole: (family.candidates[0]?.size ?? 0) >= withholdBelow,
    shows: (key, code) => shown.has(name(key, code)),
  };
}
