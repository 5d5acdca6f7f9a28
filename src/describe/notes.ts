import type { SurveySettings } from "./settings.js";

export type Note = SurveySettings["notes"][number];

/** Something guessed, assumed or left unsaid: its words are `input.note.<id>`. */
export function note(id: string, values: Note["values"] = {}): Note {
  return { id: `input.note.${id}`, values };
}
