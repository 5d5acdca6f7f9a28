import { message } from "../results/message.js";
import type { MessageId } from "../results/message-ids.js";
import type { Message } from "../results/schema.js";
import { defaults } from "../settings/make-settings.js";
import { showValue } from "../settings/show-value.js";
import type { SurveyFileValues } from "../settings/survey-schema.js";
import type { DraftEntry, DraftValue } from "./draft-text.js";
import { type Guesses, isFilled } from "./guess.js";

type KeyWithWords<Id> = Id extends `input.draft.key.${infer Key}` ? Key : never;

/** A key of the settings that the draft explains. */
type DraftKey = keyof SurveyFileValues & KeyWithWords<MessageId>;

/** Puts a message into the words of a language. */
export type Say = (message: Message) => string;

/** A message as a line of comment; a sentence that holds a line break stays on one line. */
export function comment(say: Say, text: Message): string {
  return say(text).replace(/\s*[\r\n\u2028\u2029]+\s*/g, " ");
}

const clusterList = {
  file: "clusters.csv",
  columns: {
    cluster: "cluster",
    stratum: "stratum",
    "planned-households": "planned",
    "reached-households": "reached",
    "households-in-frame": "households",
    replacement: "replacement",
  },
};

const planned = { clusters: 30, "households-per-cluster": 20, households: "with-children" };

/** The settings that are not about columns, with their defaults, each with a line on what it does. */
export function otherEntries(guesses: Guesses, say: Say): DraftEntry[] {
  const { ageRange, ageInMonths, exclusions, positionRule, expectations } = defaults;
  const entry = (key: DraftKey, value: DraftValue, off = false): DraftEntry => ({
    comments: [comment(say, message(`input.draft.key.${key}`))],
    key,
    value,
    off,
    apart: true,
  });
  const off = (key: DraftKey, value: DraftValue): DraftEntry => entry(key, value, true);
  return [
    off("subgroups", []),
    ...(isFilled("age-months", guesses.guesses) ? [entry("age-in-months", ageInMonths)] : []),
    entry("ages", ageRange),
    entry("position-rule", positionRule),
    entry("exclusions", { default: exclusions.default, "width-around-mean": exclusions.widthAroundMean }),
    off("expectations", {
      "boys-per-girl": expectations.boysPerGirl,
      "under-five-mortality": expectations.underFiveMortality,
      "growth-of-births": expectations.growthOfBirths,
    }),
    off("clusters-in-population", { stratum: 100 }),
    off("children-in-population", { stratum: 10_000 }),
    off("children-per-cluster", { stratum: 80 }),
    off("sampling", { drawn: "clusters", chances: "equal" }),
    off("clusters", clusterList),
    off("planned", planned),
    off("missing-codes", []),
  ];
}

/** The columns that are not read, so that the user sees what was passed over. */
export function unreadEntries(guesses: Guesses, say: Say): DraftEntry[] {
  const passedOver = [
    ["input.draft.form-columns", guesses.formColumns],
    ["input.draft.option-columns", guesses.optionColumns],
    ["input.draft.other-columns", guesses.otherColumns],
  ] as const;
  return passedOver.flatMap(([id, columns]) =>
    columns.length === 0
      ? []
      : [{ comments: [comment(say, message(id, { columns: columns.map(showValue) }))], apart: true }],
  );
}
