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

/** The whole page as the template draws it: finished strings, and markup of our own. */
export interface PageView {
  readonly language: string;
  readonly direction: string;
  readonly title: string;
  readonly description: string;
  readonly style: OwnMarkup;
  readonly population: string;
  readonly facts: readonly string[];
  readonly invented: boolean;
  readonly contents: readonly {
    readonly href: string;
    readonly number: number;
    readonly label: string;
  }[];
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

export async function pageView(results: Results, words: Words): Promise<PageView> {
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
  const made: SectionView[] = [];
  for (const section of sections)
    made.push(await sectionView(heading(section), section, results, citations, earlier, words));
  const title = results.survey.title;
  const families = await familyViews(results, citations, words);
  return {
    language: words.language === "xx" ? "en" : words.language,
    direction: words.direction,
    title,
    description: words.text(results.story.sentence),
    style: styleSheet(title, footer(results, words)),
    population: results.survey.population,
    facts: coverFacts(results, words),
    invented: results.survey.invented,
    contents: order.map((id, i) => ({
      href: `#${id}`,
      number: i + 1,
      label: words.text(message(`section.${id}`)),
    })),
    summary: await summaryView(heading("summary"), results, words),
    sections: made,
    prevalence: {
      ...heading("prevalence"),
      families,
      inFiles: inFiles(families, "tables/prevalence.csv", words),
      exclusions: exclusionTable(results, words),
    },
    consequence: await consequenceView(heading, results, citations, words),
    followUp: { ...heading("follow-up"), ...followUpView(results, words) },
    methods: {
      ...heading("methods"),
      ...methodsView(results, citations, words),
    },
  };
}

function coverFacts(results: Results, words: Words): string[] {
  const { survey, children, design } = results;
  const facts: Message[] = [];
  if (survey.firstDay !== null && survey.lastDay !== null) {
    facts.push(
      message("cover.days", {
        first: words.day(survey.firstDay),
        last: words.day(survey.lastDay),
      }),
    );
  }
  facts.push(message("cover.children", { n: children.total }));
  if (design.clusters !== null) facts.push(message("cover.clusters", { n: design.clusters }));
  if (design.teams !== null) facts.push(message("cover.teams", { n: design.teams }));
  facts.push(madeMessage(results, words));
  return facts.map((fact) => words.text(fact));
}

function madeMessage({ madeOn, tool }: Results, words: Words): Message {
  const named = `${tool.name} ${tool.version}`;
  if (madeOn === null) return message("cover.made.undated", { tool: named });
  return message("cover.made", { day: words.day(madeOn), tool: named });
}

/** What stands at the foot of every printed page. */
function footer(results: Results, words: Words): string {
  const made = words.text(madeMessage(results, words));
  return results.survey.invented ? `${made} \u00b7 ${words.text(message("cover.invented.short"))}` : made;
}
