import type { MessageId } from "../results/message-ids.js";
import type { SurveySettings } from "./settings.js";

type BehindNote<Id> = Id extends `input.note.${infer Name}` ? Name : never;
export type NoteId = BehindNote<MessageId>;

export type Note = SurveySettings["notes"][number];

/** Something guessed, assumed or left unsaid: its words are `input.note.<id>`. */
export function note(id: NoteId, values: Note["values"] = {}): Note {
  return { id: `input.note.${id}`, values };
}

/** Notes on a reading of the columns that changes figures and that the user may not expect: said at the terminal too, not only in the report. */
const atOnce: readonly NoteId[] = [
  "set-aside",
  "repeats-like-code",
  "rows-empty",
  "nested-columns-unread",
  "labels-same",
  "labels-nearly-same",
  "clusters-within",
  "clusters-in-several-strata",
  "halves-as-one",
  "position-from-columns",
  "ages-apart",
  "unread-weight",
  "unread-cluster",
  "unread-stratum",
];

/** Whether a note is said at the terminal, too. */
export function isSaidAtOnce({ id }: { readonly id: string }): boolean {
  return atOnce.some((said) => id === `input.note.${said}`);
}
