import type { Children } from "../../derive/children.js";

/**
 * Fewest minutes in which a team can undress, weigh and measure a child and write it down. Common practice, no source: own
 * judgement, set low, so that a practised team with a calm child is not called quick.
 */
export const fewestMinutes = 3;

/** Hours between which teams visit homes, from dawn to dusk: own judgement, no source. The second is the first hour outside. */
export const workingHours = { from: 6, to: 19 } as const;

const minutesADay = 1440;

/** One form: the children who have one time in common. */
interface Form {
  /** Position of its first child. */
  readonly child: number;
  readonly children: number;
  /** Days since 1970 with the time of day as a fraction. */
  readonly time: number;
  readonly team: number;
}

/** A form that follows another of its team on the same day too soon. */
export interface QuickForm {
  readonly child: number;
  readonly minutes: number;
}

/** What times tell of every form, marked at its first child. */
export interface EntryTimes {
  /** 1 at the first child of every form with a time. */
  readonly isForm: Uint8Array;
  /** 1 where another form of the team came before on the same day, and where it came too soon before. */
  readonly follows: Uint8Array;
  readonly isQuick: Uint8Array;
  readonly quick: readonly QuickForm[];
  /** 1 where the form lies outside working hours. */
  readonly isOutside: Uint8Array;
  /** 1 where the day of the interview is known, and where the form is of another day. */
  readonly hasDay: Uint8Array;
  readonly isOtherDay: Uint8Array;
  /** Forms of a day before the interview, which only a wrong date or clock explains. */
  readonly early: number;
}

/**
 * Children of one team (or of none) with the same moment are on one form; moments are compared to the second. Forms that were
 * sent together have one moment too, so that every child then counts by itself.
 */
function formsOf({ count, team }: Children, times: Float64Array, sent: boolean): Form[] {
  const forms = new Map<string, { child: number; children: number; time: number; team: number }>();
  for (let child = 0; child < count; child++) {
    const time = times[child] as number;
    if (Number.isNaN(time)) continue;
    const own = team?.codes[child] ?? -1;
    const key = sent ? String(child) : `${own} ${Math.round(time * 86_400)}`;
    const known = forms.get(key);
    if (known === undefined) forms.set(key, { child, children: 1, time, team: own });
    else known.children += 1;
  }
  return [...forms.values()].sort((a, b) => a.time - b.time);
}

/** Pairs of forms of one team that follow each other on one day. Forms typed in on another day than the interview's say nothing of it. */
function followers(forms: readonly Form[], isOtherDay: Uint8Array): { readonly before: Form; readonly form: Form }[] {
  const last = new Map<number, Form>();
  const pairs: { before: Form; form: Form }[] = [];
  for (const form of forms) {
    if (form.team < 0 || isOtherDay[form.child] === 1) continue;
    const before = last.get(form.team);
    if (before !== undefined && Math.floor(before.time) === Math.floor(form.time)) pairs.push({ before, form });
    last.set(form.team, form);
  }
  return pairs;
}

/**
 * The forms of the survey by their times. `sent` says that the times are those of sending: then only the day is looked at. `interviewDay` is
 * null where no column but the time itself gives it. A form of several children needs the time of as many; whether a time
 * stands for the beginning or the end is not known, so that the form with fewer children of the two counts.
 */
export function entryTimes(children: Children, sent: boolean, interviewDay: Float64Array | null): EntryTimes {
  const times = children.entryTime ?? new Float64Array(children.count).fill(Number.NaN);
  const none = (): Uint8Array => new Uint8Array(children.count);
  const [isForm, follows, isQuick, isOutside, hasDay, isOtherDay] = [none(), none(), none(), none(), none(), none()];
  const forms = formsOf(children, times, sent);
  let early = 0;
  for (const { child, time } of forms) {
    isForm[child] = 1;
    const hour = (time - Math.floor(time)) * 24;
    if (hour < workingHours.from || hour >= workingHours.to) isOutside[child] = 1;
    const day = interviewDay?.[child] ?? Number.NaN;
    if (Number.isNaN(day)) continue;
    hasDay[child] = 1;
    if (Math.floor(time) !== day) isOtherDay[child] = 1;
    if (Math.floor(time) < day) early += 1;
  }
  const quick: QuickForm[] = [];
  for (const { before, form } of sent ? [] : followers(forms, isOtherDay)) {
    follows[form.child] = 1;
    const minutes = (form.time - before.time) * minutesADay;
    // Half a second less: a moment as a share of a day is not exact.
    if (minutes > fewestMinutes * Math.min(before.children, form.children) - 1 / 120) continue;
    isQuick[form.child] = 1;
    quick.push({ child: form.child, minutes });
  }
  return { isForm, follows, isQuick, quick, isOutside, hasDay, isOtherDay, early };
}
