import { filledIn } from "../../columns/set-aside.js";
import type { Children, IndexId } from "../../derive/children.js";

/** Who lacks something, among those who should have it. `isCase` is 1 only within the domain. */
export interface Gaps {
  readonly isCase: Uint8Array;
  readonly inDomain: Uint8Array;
}

export interface RoleGap {
  readonly role: string;
  /** False where the value is only one of several ways to know the same thing: it is shown, not read. */
  readonly needed: boolean;
  readonly gaps: Gaps;
  /** Of those who lack it, the number whose value was set aside as impossible. */
  readonly setAside: number;
}

const none = new Float64Array(0);

function gaps(count: number, isMissing: (i: number) => boolean, applies: (i: number) => boolean = () => true): Gaps {
  const isCase = new Uint8Array(count);
  const inDomain = new Uint8Array(count);
  for (let i = 0; i < count; i++) {
    if (!applies(i)) continue;
    inDomain[i] = 1;
    if (isMissing(i)) isCase[i] = 1;
  }
  return { isCase, inDomain };
}

/** Arms are measured from 6 months on, so a younger child without one lacks nothing. */
function armApplies({ ageMonths }: Children): (i: number) => boolean {
  return (i) => !((ageMonths[i] as number) < 6);
}

/** What is missing of every role that the data have, in the order of the form. */
export function gapsByRole(children: Children): RoleGap[] {
  const { count, sex, ageDays, birthDay, interviewDay, weight, height, arm, head, position, oedema, cluster, team } =
    children;
  const setAside: Readonly<Record<string, number>> = {
    age: filledIn(children.ageSetAside ?? none),
    weight: filledIn(weight?.setAside ?? none),
    height: filledIn(height?.setAside ?? none),
    arm: filledIn(arm?.setAside ?? none),
    head: filledIn(head?.setAside ?? none),
  };
  const role = (
    name: string,
    needed: boolean,
    column: unknown,
    isMissing: (i: number) => boolean,
    applies?: (i: number) => boolean,
  ): RoleGap[] =>
    column === null
      ? []
      : [{ role: name, needed, gaps: gaps(count, isMissing, applies), setAside: setAside[name] ?? 0 }];
  const absent = (values: Float64Array | null | undefined) => (i: number) => Number.isNaN(values?.[i] ?? Number.NaN);
  return [
    ...role("cluster", true, cluster, (i) => (cluster?.codes[i] ?? -1) < 0),
    ...role("team", true, team, (i) => (team?.codes[i] ?? -1) < 0),
    ...role("interview-date", true, interviewDay, absent(interviewDay)),
    ...role("sex", true, sex, (i) => sex[i] === 0),
    ...role("birth-date", false, birthDay, absent(birthDay)),
    ...role("age", true, ageDays, absent(ageDays)),
    ...role("weight", true, weight, absent(weight?.values)),
    ...role("height", true, height, absent(height?.values)),
    ...role(
      "position",
      true,
      position,
      (i) => position?.[i] === 0,
      (i) => !absent(height?.values)(i),
    ),
    ...role("arm", true, arm, absent(arm?.values), armApplies(children)),
    ...role("head", true, head, absent(head?.values)),
    ...role("oedema", true, oedema, (i) => oedema?.[i] === 2),
  ];
}

/** Children who lack a weight or a height, where the survey has such a column. */
export function lacksMeasure({ count, weight, height }: Children): Gaps {
  const measures = [weight, height].filter((column) => column !== null);
  return gaps(count, (i) => measures.some((column) => Number.isNaN(column.values[i] as number)));
}

/** Children who lack sex, age, or one of the measures the survey takes. */
export function lacksSomethingNeeded(children: Children): Gaps {
  const { count, sex, ageDays, arm } = children;
  const measure = lacksMeasure(children).isCase;
  const armDue = armApplies(children);
  return gaps(
    count,
    (i) =>
      sex[i] === 0 ||
      Number.isNaN(ageDays[i] as number) ||
      measure[i] === 1 ||
      (arm !== null && armDue(i) && Number.isNaN(arm.values[i] as number)),
  );
}

/** Children with everything each index needs (`isCase` 1: complete), for the indices the data have columns for. */
export function readyByIndex(children: Children): { readonly index: IndexId; readonly gaps: Gaps }[] {
  const { count, sex, ageDays, weight, height, arm, head } = children;
  const ready = (
    index: IndexId,
    columns: readonly Children["weight"][],
    withAge: boolean,
    applies?: (i: number) => boolean,
  ) => {
    if (columns.includes(null)) return [];
    const complete = (i: number): boolean =>
      sex[i] !== 0 &&
      !(withAge && Number.isNaN(ageDays[i] as number)) &&
      columns.every((column) => !Number.isNaN(column?.values[i] ?? Number.NaN));
    return [{ index, gaps: gaps(count, complete, applies) }];
  };
  return [
    ...ready("weight-for-height", [weight, height], false),
    ...ready("height-for-age", [height], true),
    ...ready("weight-for-age", [weight], true),
    ...ready("bmi-for-age", [weight, height], true),
    ...ready("arm-for-age", [arm], true, armApplies(children)),
    ...ready("head-for-age", [head], true),
  ];
}
