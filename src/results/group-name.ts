import { message } from "./message.js";
import type { Message } from "./schema.js";

/** A group of children by what it was made by, and its label in the results. */
interface NamedGroup {
  readonly by: string;
  readonly label: string;
}

/** Labels that the program gives, and the family of their words; all other labels stand in the data. */
const own: Readonly<Record<string, { readonly words: string; readonly labels: readonly string[] }>> = {
  sex: { words: "checks.spread.group", labels: ["male", "female"] },
  "age-group": { words: "checks.spread.group", labels: ["0-5", "6-23", "24-59"] },
  "age-known-how": { words: "age-known-how", labels: ["documented", "recalled"] },
};

/** A group's name: in words where the program made the group, as it stands in the data otherwise. */
export function groupName({ by, label }: NamedGroup): Message | string {
  const family = own[by];
  return family?.labels.includes(label) === true ? message(`${family.words}.${label}`) : label;
}
