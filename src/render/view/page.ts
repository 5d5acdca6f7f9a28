import { message } from "../../results/message.js";
import type { Message, Results, Section } from "../../results/schema.js";
import type { OwnMarkup } from "../markup.js";
import { styleSheet } from "../style.js";
import type { Words } from "../words.js";
import type { EarlierMethods } from "./check.js";
import { type ConsequenceView, consequenceView } from "./consequence.js";
import { exclusionTable } from "./estimate-tables.js";
import { type FamilyView, familyViews } from "./estimates.js";
import { type FollowUpView, followUpView } from "./follow-up.js";
import { type Heading, headingOf, type InFiles, inFiles } from "./heading.js";
import { type MethodsView, methodsView } from "./methods.js";
import { type SectionView, sectionView } from "./section.js";
import { Citations } from "./sources.js";
import { type SummaryView, summaryView } from "./summary.js";
import type { TableView } from "./table.js";
import { Told } from "./told.js";

/** What a page of any kind has around its sections: head, cover and contents. */
export interface FrameView {
  readonly language: string;
  readonly direction: string;
  readonly title: string;
  readonly description: string;
  /** What kind of page it is, over the title. */
  readonly kind: string;
  readonly style: OwnMarkup;
  readonly population: string;
  readonly facts: readonly string[];
  /** Said where the data are invented. */
  readonly invented: string | null;
  readonly contents: readonly {
    readonly href: string;
    readonly number: number;
    readonly label: string;
  }[];
}

/** The whole page as the template draws it: finished strings, and markup of our own. */
export interface PageView extends FrameView {
  readonly summary: SummaryView;
  readonly sections: readonly SectionView[];
  readonly prevalence: Heading & {
    readonly families: readonly FamilyView[];
    readonly exclusions: TableView | null;
  } & InFiles;
  readonly consequence: ConsequenceView | null;
  readonly followUp: Heading & FollowUpView;
  readonly methods: Heading & MethodsView;
}

const sections: readonly Section[] = ["who", "how", "what", "where"];

export function pageView(results: Results, words: Words): PageView {
  const citations = new Citations(results.sources, words);
  const order = [
    "summary",
    ...sections,
    "prevalence",
    ...(results.consequence ? ["consequence"] : []),
    "follow-up",
    "methods",
  ];
  const heading = (id: string): Heading => headingOf(id, order.indexOf(id) + 1, results, words);
  const earlier: EarlierMethods = new Map();
  const told = new Told(words);
  const made: SectionView[] = [];
  for (const section of sections)
    made.push(sectionView(heading(section), section, results, citations, earlier, told, words));
  const title = results.survey.title;
  const facts = coverFacts(results, words);
  const contents = order.map((id, i) => ({
    href: `#${id}`,
    number: i + 1,
    label: words.text(message(`section.${id}`)),
  }));
  const families = familyViews(results, citations, words);
  return {
    language: words.language === "xx" ? "en" : words.language,
    direction: words.direction,
    title,
    description: words.text(results.story.sentence),
    kind: words.text(message("page.kind")),
    style: styleSheet(words.text(title), footer(results, results.survey.invented, words), words.direction),
    population: results.survey.population,
    facts,
    invented: results.survey.invented ? words.text(message("cover.invented")) : null,
    contents,
    summary: summaryView(heading("summary"), { facts, contents: contents.map(({ label }) => label) }, results, words),
    sections: made,
    prevalence: {
      ...heading("prevalence"),
      families,
      inFiles: inFiles(families, "tables/prevalence.csv", words),
      exclusions: exclusionTable(results, words),
    },
    consequence: consequenceView(heading, results, citations, words),
    followUp: { ...heading("follow-up"), ...followUpView(results, words) },
    methods: {
      ...heading("methods"),
      ...methodsView(results, citations, words),
    },
  };
}

/** The days from the first to the last, where both are known. */
export function daysMessage(firstDay: string | null, lastDay: string | null, words: Words): Message[] {
  if (firstDay === null || lastDay === null) return [];
  return [message("cover.days", { first: words.day(firstDay), last: words.day(lastDay) })];
}

function coverFacts(results: Results, words: Words): string[] {
  const { survey, children, design } = results;
  const facts = daysMessage(survey.firstDay, survey.lastDay, words);
  facts.push(message("cover.children", { n: children.total }));
  if (design.clusters !== null) facts.push(message("cover.clusters", { n: design.clusters }));
  if (design.teams !== null) facts.push(message("cover.teams", { n: design.teams }));
  facts.push(madeMessage(results, words));
  return facts.map((fact) => words.text(fact));
}

/** What any output says of its making. */
export type Made = Pick<Results, "madeOn" | "tool">;

export function madeMessage({ madeOn, tool }: Made, words: Words): Message {
  const named = `${tool.name} ${tool.version}`;
  if (madeOn === null) return message("cover.made.undated", { tool: named });
  return message("cover.made", { day: words.day(madeOn), tool: named });
}

/** What stands at the foot of every printed page. */
export function footer(output: Made, invented: boolean, words: Words): string {
  const made = words.text(madeMessage(output, words));
  return invented ? words.parts([made, words.text(message("cover.invented.short"))]) : made;
}
