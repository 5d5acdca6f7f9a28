import type { CodedColumn } from "../../columns/survey.js";
import type { Children } from "../../derive/children.js";
import type { Subject } from "../../disclosure/book.js";
import { keyOf } from "../../disclosure/splits.js";
import type { GroupId } from "../../results/group.js";
import { message } from "../../results/message.js";
import type { Message } from "../../results/schema.js";
import { fewestChildren } from "./reading.js";

/** A group that may or may not be told of: null where it must be kept back. */
export interface MaybeTold {
  readonly of: GroupId | null;
}

/** A group that may be told of. */
export type Told<Group extends MaybeTold> = Group & { readonly of: GroupId };

/** The groups that may be told of. */
export function toldOf<Group extends MaybeTold>(groups: readonly Group[]): Told<Group>[] {
  return groups.filter((group): group is Told<Group> => group.of !== null);
}

/** The group of a column's code, where it may be told of. */
export function partOf(
  subject: Subject,
  by: string,
  column: CodedColumn,
  { code, label }: { readonly code: number; readonly label: string },
): GroupId | null {
  return subject.part(keyOf(column), code, { by, label });
}

/** A note for the table, where groups are kept back. */
export function keptBackNotes(groups: readonly MaybeTold[]): Message[] {
  return groups.some(({ of }) => of === null) ? [message("checks.small-groups.note", { limit: fewestChildren })] : [];
}

/** Whether every team may be told of: a statistic over all of them would give the last one away. */
export function allTeamsTold({ team }: Pick<Children, "team">, { screen }: Subject): boolean {
  if (team === null) return true;
  return [...new Set(team.codes)].every((code) => code < 0 || screen.shows(keyOf(team), code));
}
