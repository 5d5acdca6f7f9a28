import { describe, expect, it } from "vitest";
import type { CodedColumn } from "../../src/columns/survey.js";
import type { Children, ExclusionRule, IndexId } from "../../src/derive/children.js";
import { usable } from "../../src/derive/exclusions.js";
import { type OutcomeId, outcome } from "../../src/derive/outcome.js";
import type { EstimateCell, EstimateResult, Results } from "../../src/results/schema.js";
import { type AttackedSurvey, randomSurvey } from "./privacy-world.js";
import { boundsOf, Solver, type Statement } from "./solver.js";

/*
 * An attacker who knows which group every child belongs to, and which measures it has, but not what was found, reads the
 * published results and works out what follows. Withheld groups, the children that two parts share, those of a team on one
 * day, those that two rules of exclusion treat differently: of none with 1 to 24 children may a sum come out.
 */

const few = (n: number): boolean => n > 0 && n < 25;

interface Split {
  readonly by: string;
  readonly codes: ArrayLike<number>;
  /** What the results call each group. */
  readonly labels: readonly string[];
}

const ages = [6, 12, 24, 36, 48, 60];

function splitsOf(children: Children): Split[] {
  const column = (by: string, own: CodedColumn | null): Split[] =>
    own === null ? [] : [{ by, codes: own.codes, labels: own.publicLabels }];
  const age = Int32Array.from(children.ageMonths, (months) =>
    months >= 0 && months < 60 ? ages.findIndex((to) => months < to) : -1,
  );
  const days = [...new Set(children.interviewDay ?? [])].filter((day) => !Number.isNaN(day)).sort((a, b) => a - b);
  return [
    { by: "sex", codes: children.sex.map((code) => code - 1), labels: ["sex.male", "sex.female"] },
    { by: "age-group", codes: age, labels: ["0", "6", "12", "24", "36", "48"] },
    ...column("area", children.area),
    ...column("stratum", children.stratum),
    ...column("team", children.team),
    ...children.subgroups.flatMap((own) => column(own.name, own)),
    {
      by: "day",
      codes: Int32Array.from(children.interviewDay ?? [], (day) => days.indexOf(day)),
      labels: days.map((_, day) => String(day + 1)),
    },
  ];
}

/** Codes of sex are 255 where it is unknown. */
const isIn = ({ codes }: Split, child: number, code: number): boolean => codes[child] === code;

/** What is told of the children, one number a child, and who is told of under each rule. */
interface Told {
  readonly id: string;
  domain(rule: ExclusionRule): Uint8Array;
  value(child: number): number;
}

function toldOf(children: Children): Told[] {
  const outcomes: readonly OutcomeId[] = ["wasting", "stunting", "acute-malnutrition-by-arm-circumference"];
  const cases = outcomes.map((id): Told => {
    const { isCase } = outcome(children, id, "none");
    return { id, domain: (rule) => outcome(children, id, rule).inDomain, value: (child) => isCase[child] as number };
  });
  const means = (["weight-for-height", "height-for-age"] as const).map((index: IndexId): Told => {
    const { z } = children.indices[index];
    return {
      id: `mean-${index}`,
      domain: (rule) => usable(children, index, rule),
      value: (child) => z[child] as number,
    };
  });
  return [...cases, ...means];
}

const labelOf = ({ label }: EstimateCell): string =>
  typeof label === "string" ? label : label.id === "age-group" ? String(label.values.from) : label.id;

interface Published {
  readonly members: Uint8Array;
  /** Of a share or mean: what it is the share of. */
  readonly value: number;
}

/** Everything published of one thing told, with the children that the attacker knows to be meant. */
function publishedOf(told: Told, estimate: EstimateResult, results: Results, splits: readonly Split[]): Published[] {
  const found: Published[] = [];
  const add = (members: Uint8Array, value: number | null | undefined): void => {
    if (value !== null && value !== undefined) found.push({ members, value });
  };
  const whole = told.domain("fixed");
  const where = (keep: (child: number) => boolean): Uint8Array =>
    whole.map((inside, child) => (inside === 1 && keep(child) ? 1 : 0));
  add(whole, estimate.overall?.value);
  for (const { rule, cell } of estimate.byExclusion) add(told.domain(rule as ExclusionRule), cell.value);
  for (const { by, columnName, cells } of estimate.subgroups) {
    const split = splits.find((one) => one.by === (columnName ?? by));
    if (split === undefined) throw new Error(`The attacker does not know the split ${by}.`);
    for (const cell of cells) {
      const code = split.labels.indexOf(labelOf(cell));
      if (cell.value === null) continue;
      if (code < 0) throw new Error(`The attacker does not know the group ${labelOf(cell)}.`);
      add(
        where((child) => isIn(split, child, code)),
        cell.value,
      );
    }
  }
  for (const { id, outcomes } of results.consequence?.scenarios ?? []) {
    const value = outcomes.find((one) => one.estimate === told.id)?.value;
    const [, by = "", label = ""] = /^leave-out-(team|day)\/(.*)$/.exec(id) ?? [];
    const split = splits.find((one) => one.by === by);
    const code = split?.labels.indexOf(label) ?? -1;
    if (split !== undefined && code >= 0)
      add(
        where((child) => !isIn(split, child, code)),
        value,
      );
    if (id === "exclusions/none") add(told.domain("none"), value);
    if (id === "exclusions/around-mean-3") add(told.domain("around-mean"), value);
  }
  return found;
}

/** Sets of 1 to 24 children of the denominator that somebody could ask for. */
function targetsOf(told: Told, splits: readonly Split[], published: readonly Published[]): Uint8Array[] {
  const whole = told.domain("fixed");
  const parts = splits.flatMap((split) =>
    split.labels.map((_, code) => ({
      split,
      members: whole.map((inside, child) => (inside === 1 && isIn(split, child, code) ? 1 : 0)),
    })),
  );
  const sets = parts.map(({ members }) => members);
  parts.forEach((one, i) => {
    for (const other of parts.slice(i + 1)) {
      if (other.split === one.split) continue;
      sets.push(one.members.map((inside, child) => inside & (other.members[child] as number)));
    }
  });
  for (const one of published) {
    for (const other of published) {
      sets.push(one.members.map((inside, child) => inside & (1 - (other.members[child] as number))));
    }
  }
  return sets.filter((members) => few(members.reduce((sum, inside) => sum + inside, 0)));
}

/** Children that everything tells alike stand together, by weight too. */
function atomsOf(count: number, sets: readonly Uint8Array[], weight: (child: number) => number) {
  const of = new Int32Array(count);
  const keys = new Map<string, number>();
  for (let child = 0; child < count; child++) {
    const key = `${sets.map((set) => set[child]).join("")} ${weight(child)}`;
    if (!keys.has(key)) keys.set(key, keys.size);
    of[child] = keys.get(key) ?? 0;
  }
  return { of, count: keys.size };
}

interface Attack {
  readonly tries: number;
  readonly recovered: string[];
}

function attackOne(told: Told, { results, children, weighted }: AttackedSurvey): Attack {
  const estimate = results.estimates.find(({ id }) => id === told.id);
  if (estimate === undefined) return { tries: 0, recovered: [] };
  const splits = splitsOf(children);
  const published = publishedOf(told, estimate, results, splits);
  const targets = targetsOf(told, splits, published);
  const weight = (child: number): number => (weighted ? (children.samplingWeight?.[child] ?? 0) : 1);
  const sets = [...published.map(({ members }) => members), ...targets];
  const atoms = atomsOf(children.count, sets, weight);
  const sizes = new Array<number>(atoms.count).fill(0);
  for (const atom of atoms.of) sizes[atom] = (sizes[atom] ?? 0) + 1;
  const row = (members: Uint8Array, by: (child: number) => number): number[] => {
    const coefficients = new Array<number>(atoms.count).fill(0);
    members.forEach((inside, child) => {
      if (inside === 1) coefficients[atoms.of[child] as number] = by(child);
    });
    return coefficients;
  };
  const statements = published.map(({ members, value }): Statement => {
    const total = members.reduce((sum, inside, child) => sum + inside * weight(child), 0);
    const sum = value * total;
    return { coefficients: row(members, weight), total: told.id.startsWith("mean") ? sum : Math.round(sum) };
  });
  const solver = new Solver(statements);
  const isCount = !told.id.startsWith("mean") && !weighted;
  const bounds = isCount ? boundsOf(statements, sizes) : null;
  const recovered = targets.flatMap((members) => {
    // What the weighted sum over a few children is tells as much of them as the plain one.
    for (const by of weighted ? [weight, () => 1] : [weight]) {
      const coefficients = row(members, by);
      const sum = solver.sumOf(coefficients);
      const truth = members.reduce((all, inside, child) => all + (inside === 1 ? by(child) * told.value(child) : 0), 0);
      if (sum !== null && Math.abs(sum - truth) < 1e-6)
        return [`${told.id}: ${members.reduce((a, b) => a + b)} children`];
      if (sum !== null) throw new Error(`${told.id}: the attacker's sum ${sum} is not the truth ${truth}`);
    }
    if (bounds === null) return [];
    const used = row(members, () => 1);
    const least = used.reduce((all, one, k) => all + one * (bounds.low[k] as number), 0);
    const most = used.reduce((all, one, k) => all + one * (bounds.high[k] as number), 0);
    return least >= 1 && most - least < 3 ? [`${told.id}: ${least} to ${most} cases`] : [];
  });
  return { tries: targets.length, recovered };
}

/** The first of the 300 that `npm run attack` attacks. */
const surveys = Number(process.env.SURVEYS ?? 30);

describe("an attack on what is published", () => {
  it(`works out nothing of a few children from ${surveys} random surveys`, async () => {
    let tries = 0;
    let published = 0;
    const recovered: string[] = [];
    for (let seed = 1; seed <= surveys; seed++) {
      const survey = await randomSurvey(70_000 + seed);
      published += survey.results.groups.length;
      for (const told of toldOf(survey.children)) {
        const attack = attackOne(told, survey);
        tries += attack.tries;
        recovered.push(...attack.recovered.map((what) => `survey ${seed}: ${what}`));
      }
    }
    console.log(`${surveys} surveys, ${published} groups published, ${tries} tries, ${recovered.length} recovered`);
    expect(tries).toBeGreaterThan(surveys * 50);
    expect(recovered).toEqual([]);
  }, 1_800_000);
});
