import type { Children } from "../derive/children.js";
import { type GroupId, groupIdSchema, type RegisteredGroup } from "../results/group.js";
import { withholdBelow } from "../results/withhold-below.js";
import { atomSizes, atomsOf, digest } from "./atoms.js";
import { type Screen, screenOf, type Telling } from "./screen.js";
import { allSplits } from "./splits.js";
import { type Candidate, familyOf, groupsToWithhold } from "./withhold.js";

/** The order in which groups of one subject are withheld where one of them must be: the last first. */
export const expendable = { main: -1, part: 0, check: 1, otherRule: 2, scenario: 3 } as const;

interface Entry {
  readonly id: GroupId;
  readonly subject: string;
  /** All children of the denominator; of a part, its own are worked out when they are wanted, since there are many parts. */
  readonly inDomain: Uint8Array;
  /** The split and code of a part that a screen has let through. */
  readonly part: { readonly key: string; readonly code: number } | null;
  readonly expendable: number;
  readonly aboutHealth: boolean;
  readonly cases: number | null;
  readonly about: Omit<RegisteredGroup, "id" | "subject" | "n">;
  readonly n: number;
}

/** What is told of the children of a denominator: the whole of them, and the parts that may be told of. */
export interface Subject {
  readonly whole: GroupId;
  readonly screen: Screen;
  /** Null where the part must not be told of. */
  part(key: string, code: number, about: { readonly by: string; readonly label: string }): GroupId | null;
}

const countOf = (flags: Uint8Array): number => {
  let count = 0;
  for (let i = 0; i < flags.length; i++) count += flags[i] as number;
  return count;
};

/** Every group of one survey's children of which anything is told. */
export class GroupBook {
  readonly #entries = new Map<GroupId, Entry>();
  /** Groups that count as published without being told of by their own id. */
  readonly #beside = new Set<GroupId>();
  readonly #answers = new Map<string, readonly GroupId[]>();
  readonly #ids = new Map<string, GroupId>();
  readonly #screens = new WeakMap<Uint8Array, Screen>();
  readonly #digests = new WeakMap<Uint8Array, string>();

  constructor(private readonly children: Children) {}

  /**
   * A subject: what is told (`wasting`, `digits/weight`), of the children marked in `inDomain`. `isCase` where the number of
   * cases follows from what is published.
   */
  subject(
    subject: string,
    inDomain: Uint8Array,
    {
      isCase = null,
      aboutHealth = isCase !== null,
      rank = expendable.check,
    }: Telling & { readonly rank?: number } = {},
  ): Subject {
    const screen = this.#screenOf(inDomain, isCase, aboutHealth);
    const enter = (part: Entry["part"], about: Entry["about"], own: number): GroupId =>
      this.#enter({ subject, inDomain, part, about, expendable: own, aboutHealth }, isCase);
    return {
      whole: enter(null, {}, rank),
      screen,
      part: (key, code, { by, label }) => {
        if (!screen.shows(key, code)) return null;
        return enter({ key, code }, { by, part: label }, expendable.part);
      },
    };
  }

  /** A group that is no part of a split: the survey under another rule, or without some children. */
  group(subject: string, members: Uint8Array, note: string, rank: number, isCase: Uint8Array | null = null): GroupId {
    const aboutHealth = true;
    return this.#enter(
      { subject, inDomain: members, part: null, about: { note }, expendable: rank, aboutHealth },
      isCase,
    );
  }

  /** Enters a group that is published elsewhere, since something told under this subject can be subtracted from it. */
  standsBeside(subject: string, members: Uint8Array): void {
    const entry = { subject, inDomain: members, part: null, about: {}, expendable: expendable.main, aboutHealth: true };
    const id = this.#enter(entry, null);
    this.#beside.add(id);
  }

  /** The register of some groups, for results.json. */
  register(published: ReadonlySet<string>): RegisteredGroup[] {
    return [...this.#entries.values()]
      .filter(({ id }) => published.has(id))
      .map(({ id, subject, about, n }) => ({ id, subject, ...about, n }));
  }

  /** How many children a group holds; undefined for an id that is not of this book. */
  size(id: string): number | undefined {
    return this.#entries.get(id as GroupId)?.n;
  }

  /**
   * The groups, among those published, that must be withheld: subject by subject, over the atoms of all splits and of every
   * group told of. An id that this book does not know is withheld as well, since it cannot be audited.
   */
  audit(published: ReadonlySet<string>): ReadonlySet<string> {
    const withheld = new Set([...published].filter((id) => !this.#entries.has(id as GroupId)));
    const bySubject = new Map<string, Entry[]>();
    for (const entry of this.#entries.values()) {
      if (!published.has(entry.id) && !this.#beside.has(entry.id)) continue;
      bySubject.set(entry.subject, [...(bySubject.get(entry.subject) ?? []), entry]);
    }
    // What only stands beside is withheld, where it is small, under its own subject.
    for (const entries of [...bySubject.values()].filter(needsAudit))
      for (const id of this.#audited(entries)) if (published.has(id)) withheld.add(id);
    return withheld;
  }

  /** The same groups of the same subject give the same answer: it is worked out once. */
  #audited(entries: readonly Entry[]): readonly GroupId[] {
    const key = entries.map(({ id }) => id).join(" ");
    const known = this.#answers.get(key) ?? this.#auditOne(entries);
    this.#answers.set(key, known);
    return known;
  }

  #auditOne(entries: readonly Entry[]): GroupId[] {
    const { children } = this;
    const splits = allSplits(children);
    const domains = [...new Set(entries.map(({ inDomain }) => inDomain))];
    const atoms = atomsOf(children.count, [...splits.map(({ codes }) => codes), ...domains]);
    const sizes = atomSizes(atoms, new Uint8Array(children.count).fill(1));
    const unplaced = new Uint8Array(atoms.count);
    const aboutHealth = entries.some((entry) => entry.aboutHealth);
    splits.forEach((_, s) => {
      atoms.codes[s]?.forEach((code, atom) => {
        if (code < 0 && !aboutHealth) unplaced[atom] = 1;
      });
    });
    const inAtoms = (members: Uint8Array): Uint8Array => {
      const found = new Uint8Array(atoms.count);
      for (let i = 0; i < members.length; i++) if (members[i] === 1) found[atoms.of[i] as number] = 1;
      return found;
    };
    const candidates: Candidate[] = entries.map(({ inDomain, part, expendable: rank, n }) => ({
      atoms: inAtoms(this.#members(inDomain, part)),
      size: n,
      split: part?.key ?? null,
      expendable: rank,
      weight: n,
    }));
    const unpublished = this.#unpublishedParts(entries).map(({ members, key }) => ({
      atoms: inAtoms(members),
      size: countOf(members),
      split: key,
      expendable: expendable.part,
      weight: 0,
    }));
    const before = unpublished.map((_, k) => candidates.length + k);
    const cases = new Map(entries.flatMap(({ cases: own }, which) => (own === null ? [] : [[which, own] as const])));
    const hidden = groupsToWithhold(familyOf([...candidates, ...unpublished], sizes, unplaced), before, { cases });
    return entries.filter((_, which) => hidden.has(which)).map(({ id }) => id);
  }

  /** Parts of the splits told of that were not let through: what must not be worked out. */
  #unpublishedParts(entries: readonly Entry[]): { readonly key: string; readonly members: Uint8Array }[] {
    const main = entries.find(({ part, about }) => part === null && about.note === undefined) ?? entries[0];
    if (main === undefined) return [];
    const told = new Set(entries.flatMap(({ part }) => (part === null ? [] : [`${part.code} ${part.key}`])));
    return allSplits(this.children).flatMap(({ key, labels }) =>
      [...labels.keys(), ...(main.aboutHealth ? [-1] : [])].flatMap((code) => {
        if (told.has(`${code} ${key}`)) return [];
        const members = this.#members(main.inDomain, { key, code });
        return members.includes(1) ? [{ key, members }] : [];
      }),
    );
  }

  #members(inDomain: Uint8Array, part: Entry["part"]): Uint8Array {
    if (part === null) return inDomain;
    const codes = allSplits(this.children).find(({ key }) => key === part.key)?.codes;
    return inDomain.map((inside, i) => (inside === 1 && codes?.[i] === part.code ? 1 : 0));
  }

  #screenOf(inDomain: Uint8Array, isCase: Uint8Array | null, aboutHealth: boolean): Screen {
    if (isCase !== null || aboutHealth) return screenOf(this.children, inDomain, { isCase, aboutHealth });
    const known = this.#screens.get(inDomain) ?? screenOf(this.children, inDomain);
    this.#screens.set(inDomain, known);
    return known;
  }

  #enter(entry: Omit<Entry, "id" | "n" | "cases">, isCase: Uint8Array | null): GroupId {
    const { subject, inDomain, part, about } = entry;
    const key = JSON.stringify([subject, part, about, entry.expendable, this.#digestOf(inDomain), isCase !== null]);
    const known = this.#ids.get(key);
    if (known !== undefined) return known;
    const id = groupIdSchema.parse(`group-${this.#ids.size + 1}`);
    const members = this.#members(inDomain, part);
    const cases = isCase === null ? null : countOf(members.map((inside, i) => inside & (isCase[i] as number)));
    this.#ids.set(key, id);
    this.#entries.set(id, { id, ...entry, cases, n: countOf(members) });
    return id;
  }

  #digestOf(inDomain: Uint8Array): string {
    const known = this.#digests.get(inDomain) ?? digest(inDomain);
    this.#digests.set(inDomain, known);
    return known;
  }
}

/** Parts that a screen let through of one denominator are audited already, and a whole alone needs its size only. */
function needsAudit(entries: readonly Entry[]): boolean {
  const domains = new Set(entries.map(({ inDomain }) => inDomain));
  return (
    domains.size > 1 ||
    entries.some(({ part, about, n }) => part === null && (about.note !== undefined || n < withholdBelow))
  );
}

const books = new WeakMap<Children, GroupBook>();

/** The book of some children: made once, so that everything told of them stands in one. */
export function bookOf(children: Children): GroupBook {
  const known = books.get(children) ?? new GroupBook(children);
  books.set(children, known);
  return known;
}
