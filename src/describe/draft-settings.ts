import { message } from "../results/message.js";
import type { Message } from "../results/schema.js";
import { type Guesses, isFilled } from "./guess.js";
import { defaults } from "./make-settings.js";
import { showValue } from "./show-value.js";

/** Puts a message into the words of a language. */
export type Say = (message: Message) => string;

/** Comment lines; a sentence that holds a line break stays on one line. */
export function comment(say: Say, text: Message, indent: string): string {
  return `${indent}# ${say(text).replace(/\s*[\r\n\u2028\u2029]+\s*/g, " ")}`;
}

const clusterListLines = [
  "# clusters:",
  "#   file: clusters.csv",
  "#   columns:",
  "#     cluster: cluster",
  "#     stratum: stratum",
  "#     planned-households: planned",
  "#     reached-households: reached",
  "#     households-in-frame: households",
  "#     replacement: replacement",
];

const plannedLines = [
  "# planned:",
  "#   clusters: 30",
  "#   households-per-cluster: 20",
  "#   households: with-children",
];

/** The settings that are not about columns, with their defaults, each with a line on what it does. */
export function otherLines(guesses: Guesses, say: Say): string[] {
  const { ageRange, exclusions, positionRule, expectations } = defaults;
  const block = (id: string, lines: readonly string[]): string[] => [
    "",
    comment(say, message(`input.draft.key.${id}`), ""),
    ...lines,
  ];
  return [
    ...block("subgroups", ["# subgroups: []"]),
    ...(isFilled("age-months", guesses.guesses) ? block("age-in-months", ["age-in-months: completed"]) : []),
    ...block("ages", ["ages:", `  from: ${ageRange.from}`, `  to: ${ageRange.to}`]),
    ...block("position-rule", [`position-rule: ${positionRule}`]),
    ...block("exclusions", [
      "exclusions:",
      `  default: ${exclusions.default}`,
      `  width-around-mean: ${exclusions.widthAroundMean}`,
    ]),
    ...block("expectations", [
      "# expectations:",
      `#   boys-per-girl: ${expectations.boysPerGirl}`,
      `#   under-five-mortality: ${expectations.underFiveMortality}`,
      `#   growth-of-births: ${expectations.growthOfBirths}`,
    ]),
    ...block("clusters-in-population", ["# clusters-in-population:", "#   stratum: 100"]),
    ...block("children-in-population", ["# children-in-population:", "#   stratum: 10000"]),
    ...block("children-per-cluster", ["# children-per-cluster:", "#   stratum: 80"]),
    ...block("sampling", ["# sampling:", "#   drawn: clusters", "#   chances: equal"]),
    ...block("clusters", clusterListLines),
    ...block("planned", plannedLines),
    ...block("missing-codes", ["# missing-codes: []"]),
  ];
}

/** The columns that are not read, so that the user sees what was passed over. */
export function unreadLines(guesses: Guesses, say: Say): string[] {
  const lines: string[] = [];
  const add = (id: string, columns: readonly string[]): void => {
    if (columns.length > 0) lines.push("", comment(say, message(id, { columns: columns.map(showValue) }), ""));
  };
  add("input.draft.form-columns", guesses.formColumns);
  add("input.draft.option-columns", guesses.optionColumns);
  add("input.draft.other-columns", guesses.otherColumns);
  return lines;
}
