import { message } from "../../results/message.js";
import type { Message, Results } from "../../results/schema.js";
import type { Words } from "../words.js";
import { inputTable } from "./facts.js";
import { columnsTable, settingsTable } from "./settings.js";
import type { CitationList, Citations, SourceView } from "./sources.js";
import type { TableView } from "./table.js";

/** The last section: how everything was computed, from what, and by whose word. */
export interface MethodsView {
  readonly paragraphs: readonly string[];
  /** How the z-scores were computed, as far as it bears on this survey. */
  readonly scores: readonly string[];
  readonly notes: readonly string[];
  readonly input: TableView;
  readonly settings: readonly TableView[];
  readonly sources: readonly SourceView[];
  readonly legend: CitationList["marks"];
}

const paragraphs = ["estimates", "small-cells", "readings", "chance"];

export function methodsView(results: Results, citations: Citations, words: Words): MethodsView {
  const columns = columnsTable(results, words);
  return {
    paragraphs: paragraphs.map((id) => words.text(message(`methods.${id}`))),
    scores: scoreMethods(results).map((each) => words.text(each)),
    notes: results.notes.map((note) => words.text(noteInWords(note, words))),
    input: inputTable(results, words),
    settings: [...(columns === null ? [] : [columns]), settingsTable(results, words)],
    sources: citations.all(),
    legend: citations.legend(),
  };
}

/** Values of a note that the settings file spells in a way of its own, by the id of their words. */
const spelled: Readonly<Record<string, (value: string) => string>> = {
  role: (value) => `role.${value}`,
  order: (value) => `date-order.${value}`,
  unit: (value) => `unit-name.${value}`,
  estimate: (value) => `estimate.${value}`,
};

/** A note with the names of roles, of orders of dates and of units in words, where they have some. */
export function noteInWords(note: Message, words: Words): Message {
  const values = Object.entries(note.values).map(([name, value]) => {
    const id = typeof value === "string" ? spelled[name]?.(value) : undefined;
    return [name, id !== undefined && words.has(id) ? message(id) : value];
  });
  return { ...note, values: Object.fromEntries(values) };
}

/** The sentences on z-scores that apply: to the columns the survey has, the indices computed and the rules it set. */
export function scoreMethods(results: Results): Message[] {
  const columns = results.settings.columns;
  const has = (role: string): boolean => columns[role] !== undefined;
  const computed = (index: string): boolean =>
    results.children.scores.some((score) => score.index === index && score.computed > 0);
  const scored = results.children.scores.some((score) => score.computed > 0);
  const byWeight = ["weight-for-height", "weight-for-age", "bmi-for-age"].some(computed);
  const when = (applies: boolean, ...messages: Message[]): Message[] => (applies ? messages : []);
  return [
    ...when(scored, message("derive.method.standard")),
    ...when(has("birth-date") && has("interview-date"), message("derive.method.age-dates")),
    ...when(has("age-months"), message(`derive.method.age-${results.settings.ageInMonths}`)),
    ...when(computed("weight-for-height") || computed("height-for-age"), message("derive.method.position")),
    ...when(computed("weight-for-height"), message("derive.method.position-age-unknown")),
    ...when(byWeight || computed("arm-for-age"), message("derive.method.restricted")),
    ...when(has("oedema") && byWeight, message("derive.method.oedema")),
    ...when(scored, message("derive.method.rounding"), ...exclusionMethods(results.settings.exclusions)),
    ...when(computed("weight-for-height") && has("arm-circumference"), message("derive.method.combined")),
  ];
}

/** Which scores the printed prevalences leave aside. */
function exclusionMethods({ default: rule, widthAroundMean: width }: Results["settings"]["exclusions"]): Message[] {
  const fixed = message("exclusion.fixed.explain");
  if (rule === "around-mean") return [fixed, message("exclusion.around-mean.explain", { width })];
  return rule === "fixed" ? [fixed] : [];
}
