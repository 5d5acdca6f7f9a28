import { message } from "../../results/message.js";
import type { CheckResult, Message, Results, Section } from "../../results/schema.js";
import type { OwnMarkup } from "../markup.js";
import { readingSign } from "../signs.js";
import { styleSheet } from "../style.js";
import type { Words } from "../words.js";
import { type BehindView, behindView, type CheckView, checkView, type EarlierMethods } from "./check.js";
import { exclusionTable, type FamilyView, familyViews, headlineChart } from "./estimates.js";
import { childrenTables, scoresTable } from "./facts.js";
import { type FigureView, figureView } from "./figure.js";
import { fitting } from "./first-page.js";
import { type FollowUpView, followUpView } from "./follow-up.js";
import { type MethodsView, methodsView } from "./methods.js";
import { type CitationList, Citations } from "./sources.js";
import { type TableView, tableView } from "./table.js";

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

interface Heading {
  readonly id: string;
  readonly number: number;
  /** Name of the section, to stand before the heading sentence; null where the sentence begins with it. */
  readonly name: string | null;
  readonly heading: string;
}

/** Where readers of the printed page find what only the screen unfolds; null where nothing is folded. */
interface InFiles {
  readonly inFiles: string | null;
}

interface SummaryView extends Heading {
  readonly sentence: string;
  readonly paragraphs: readonly string[];
  readonly figure: FigureView | null;
  readonly findings: readonly {
    readonly sign: OwnMarkup;
    readonly word: string;
    readonly href: string;
    readonly text: string;
    readonly consequence: string | null;
  }[];
  /** How many further findings the first page has no room for. */
  readonly more: string | null;
  readonly next: readonly string[];
  readonly moreSteps: string | null;
  readonly cautions: readonly string[];
}

interface SectionView extends Heading, InFiles {
  readonly overview: readonly {
    readonly href: string;
    readonly title: string;
    readonly sign: OwnMarkup;
    readonly word: string;
  }[];
  readonly tables: readonly TableView[];
  readonly checks: readonly CheckView[];
}

interface ConsequenceView extends Heading {
  readonly paragraphs: readonly string[];
  readonly figures: readonly FigureView[];
  readonly behind: BehindView | null;
  readonly tables: readonly TableView[];
  readonly method: readonly string[];
  readonly citations: CitationList | null;
}

/** So many scenarios a paragraph of the section on consequences names. */
const namedInParagraph = 4;
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

function headingOf(id: string, number: number, results: Results, words: Words): Heading {
  const name = words.text(message(`section.${id}`));
  const told = id === "consequence" ? results.consequence?.heading : results.story.headings[id];
  const heading = told === undefined ? name : words.text(told);
  return { id, number, name: heading.startsWith(name) ? null : name, heading };
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

async function summaryView(heading: Heading, results: Results, words: Words): Promise<SummaryView> {
  const { story } = results;
  const chart = headlineChart(results);
  const byId = new Map(results.checks.map((check) => [check.id, check]));
  const sentence = words.text(story.sentence);
  const paragraphs = story.paragraphs.map((paragraph) => words.text(paragraph));
  const steps = story.next.map((step) => words.text(step));
  const findings = story.findings.map((finding) => {
    const check = byId.get(finding.check);
    const reading = check?.reading ?? "unknown";
    return {
      sign: readingSign(reading),
      word: words.text(message(`reading.${reading}`)),
      href: `#${finding.check}`,
      text: words.text(finding.message),
      consequence: check?.consequence === undefined ? null : words.text(check.consequence),
    };
  });
  const shown = fitting({
    title: results.survey.title,
    lead: sentence,
    paragraphs,
    hasFigure: chart !== null,
    findings: findings.map(({ text, consequence }) => `${text} ${consequence ?? ""}`),
    steps,
  });
  const more = findings.length - shown.findings;
  const moreSteps = steps.length - shown.steps;
  return {
    ...heading,
    sentence,
    paragraphs,
    figure: chart === null ? null : await figureView(chart, "summary-figure", words),
    findings: findings.slice(0, shown.findings),
    more: more > 0 ? words.text(message("summary.more", { count: more })) : null,
    next: steps.slice(0, shown.steps),
    moreSteps: moreSteps > 0 ? words.text(message("summary.more-steps", { count: moreSteps })) : null,
    cautions: story.cautions.map((caution) => words.text(caution)),
  };
}

async function sectionView(
  heading: Heading,
  section: Section,
  results: Results,
  citations: Citations,
  earlier: EarlierMethods,
  words: Words,
): Promise<SectionView> {
  const mine = results.checks.filter((check) => check.section === section);
  const checks: CheckView[] = [];
  for (const check of mine) checks.push(await checkView(check, citations, earlier, words));
  const scores = section === "what" ? scoresTable(results, words) : null;
  return {
    ...heading,
    overview: mine.map((check) => overviewLine(check, words)),
    inFiles: inFiles(checks, "tables/checks.csv", words),
    tables: section === "who" ? childrenTables(results, words) : scores === null ? [] : [scores],
    checks,
  };
}

function inFiles(parts: readonly { readonly behind: BehindView | null }[], file: string, words: Words): string | null {
  return parts.some(({ behind }) => behind !== null) ? words.text(message("behind.in-files", { file })) : null;
}

function overviewLine(check: CheckResult, words: Words): SectionView["overview"][number] {
  return {
    href: `#${check.id}`,
    title: words.text(message(`checks.${check.id}.title`)),
    sign: readingSign(check.reading),
    word: words.text(message(`reading.${check.reading}`)),
  };
}

/** A verdict that names the scenarios is too long for a heading: the heading then counts them, a paragraph names them. */
function consequenceHeading(heading: Message): { readonly told: Message; readonly rest: readonly Message[] } {
  if (heading.id !== "consequence.verdict.moved") return { told: heading, rest: [] };
  return { told: message("consequence.heading.moved", heading.values), rest: [heading] };
}

async function consequenceView(
  heading: (id: string) => Heading,
  results: Results,
  citations: Citations,
  words: Words,
): Promise<ConsequenceView | null> {
  const { consequence } = results;
  if (consequence === undefined) return null;
  const { told, rest } = consequenceHeading(consequence.heading);
  // An estimate whose class few scenarios move needs no page of its own, since the paragraphs name them all; at least the
  // first one is always shown.
  const moved = new Set(
    consequence.verdicts.filter(({ movers }) => movers.length > namedInParagraph).map(({ estimate }) => estimate),
  );
  const figures: FigureView[] = [];
  const folded: FigureView[] = [];
  for (const [i, chart] of consequence.charts.entries()) {
    const unmoved = i > 0 && chart.kind === "scenarios" && !moved.has(chart.estimate);
    (unmoved ? folded : figures).push(await figureView(chart, `consequence-figure-${i + 1}`, words));
  }
  return {
    ...heading("consequence"),
    heading: words.text(told),
    paragraphs: [...rest, ...consequence.paragraphs].map((paragraph) => words.text(paragraph)),
    figures,
    behind: behindView(folded, [], words),
    tables: consequence.tables.map((table, i) => tableView(table, `consequence-table-${i + 1}`, words)),
    method: consequence.method.map((line) => words.text(line)),
    citations: citations.of(consequence.sources),
  };
}
