import { message } from "../../results/message.js";
import type { Results } from "../../results/schema.js";
import type { OwnMarkup } from "../markup.js";
import { readingSign } from "../signs.js";
import type { Words } from "../words.js";
import { headlineChart } from "./estimate-charts.js";
import { type FigureView, figureView } from "./figure.js";
import { type Cover, fitting } from "./first-page.js";
import type { Heading } from "./heading.js";

/** The first page: the survey in a sentence, its picture, what was found, what to do next. */
export interface SummaryView extends Heading {
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

/** The first page, with as many findings and steps as it has room for. */
export function summaryView(heading: Heading, cover: Cover, results: Results, words: Words): SummaryView {
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
  const cautions = story.cautions.map((caution) => words.text(caution));
  const shown = fitting({
    title: results.survey.title,
    lead: sentence,
    paragraphs,
    figure: chart === null ? null : words.text(chart.title),
    findings: findings.map(({ text, consequence }) => `${text} ${consequence ?? ""}`),
    steps,
    cautions,
    cover,
  });
  const more = findings.length - shown.findings;
  const moreSteps = steps.length - shown.steps;
  return {
    ...heading,
    sentence,
    paragraphs,
    figure: chart === null ? null : figureView(chart, "summary-figure", words),
    findings: findings.slice(0, shown.findings),
    more: more > 0 ? words.text(message("summary.more", { count: more })) : null,
    next: steps.slice(0, shown.steps),
    moreSteps: moreSteps > 0 ? words.text(message("summary.more-steps", { count: moreSteps })) : null,
    cautions,
  };
}
