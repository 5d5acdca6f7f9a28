import type { Block, Comparison, ComparisonSection, Pair } from "../results/comparison.js";
import { message } from "../results/message.js";
import { isConcern, severity } from "../results/reading.js";
import type { Message } from "../results/schema.js";
import { isClear } from "../results/verdict.js";
import { fewOf, surveyName } from "./cells.js";
import { roundsOf } from "./rounds.js";
import { monthsApart } from "./season.js";
import { headlineOf, lastSteps, type StoryParts, together } from "./story-parts.js";
import { isEstablished, placesSentence, repairedSentence, roundsSentence } from "./story-sentences.js";

type Story = Comparison["story"];

/** Estimates told beside the headline. */
const secondary = ["acute-malnutrition-combined", "stunting"];
/** Sections in the order of what follows from them; the picture of all places repeats what these find. */
const consequence: readonly ComparisonSection[] = ["changes", "paired", "levels", "quality", "teams", "comparability"];

const quoted = (label: Message): Message => message("story.quoted", { label });
const blocksOf = ({ sections }: StoryParts, id: ComparisonSection): readonly Block[] =>
  sections.find((section) => section.id === id)?.blocks ?? [];
const concerns = (blocks: readonly Block[]): Block[] =>
  blocks.filter(({ reading }) => reading !== undefined && isConcern(reading));

/** Estimates that differ clearly somewhere, by the question asked of the pair. */
function clearEstimates({ pairs, differences }: StoryParts, questions: readonly Pair["question"][]): Set<string> {
  const ids = new Set(pairs.filter(({ question }) => questions.includes(question)).map(({ id }) => id));
  return new Set(differences.filter((one) => isClear(one) && ids.has(one.pair)).map(({ estimate }) => estimate));
}

const questionsOf: Readonly<Partial<Record<ComparisonSection, readonly Pair["question"][]>>> = {
  changes: ["rounds"],
  levels: ["places"],
  paired: ["rounds", "places"],
};

/** What is new or still there since the round before is told although the block has no reading of its own. */
function tellsRounds({ id, finding }: Block): boolean {
  const { new: fresh = 0, persisting = 0 } = finding.values;
  return id === "quality-by-round" && (Number(fresh) > 0 || Number(persisting) > 0);
}

function findingsOf(parts: StoryParts): Story["findings"] {
  const grave = (block: Block): number => (concerns([block]).length === 0 ? 0 : severity[block.reading ?? "expected"]);
  return consequence.flatMap((id) => {
    const clear = clearEstimates(parts, questionsOf[id] ?? []);
    const tellsClear = (block: Block): boolean => [...clear].some((estimate) => block.id === `${id}-${estimate}`);
    return blocksOf(parts, id)
      .filter((block) => concerns([block]).length > 0 || tellsClear(block) || tellsRounds(block))
      .sort((one, other) => grave(other) - grave(one))
      .map((block) => ({ block: block.id, message: block.finding }));
  });
}

function otherSentences(parts: StoryParts, headline: string | null): Message[] {
  return secondary
    .filter((id) => id !== headline && parts.estimates.includes(id))
    .flatMap((id) => roundsSentence(parts, id) ?? placesSentence(parts, id) ?? []);
}

/** Findings on quality that a sentence names; the section lists them all. */
const qualityNamed = 4;

function qualitySentence(quality: readonly Block[]): Message {
  const count = quality.length;
  const names = quality.slice(0, qualityNamed).map(({ title }) => quoted(title));
  if (count === names.length) return message("compare.story.quality", { count, names });
  return message("compare.story.quality-several", { count, names, more: count - names.length });
}

function paragraphsOf(parts: StoryParts, headline: string | null): Message[] {
  const quality = concerns(blocksOf(parts, "quality"));
  const unknown = parts.differences.filter(({ verdict }) => verdict === "cannot-tell").length;
  return [
    ...otherSentences(parts, headline),
    ...(quality.length === 0 ? [] : [qualitySentence(quality)]),
    ...(unknown === 0 ? [] : [message("compare.story.cannot-tell", { count: unknown })]),
    ...(parts.refused.length === 0 ? [] : [message("compare.story.refused", { count: parts.refused.length })]),
  ];
}

/** Changes of the headline that are not established once the findings of both surveys are put right. */
function shakySteps(parts: StoryParts, headline: string) {
  return lastSteps(parts, headline).filter(
    ({ difference }) => difference !== null && isClear(difference) && !isEstablished(difference),
  );
}

function nextSteps(parts: StoryParts, headline: string | null): Message[] {
  const shaky = headline === null ? [] : shakySteps(parts, headline);
  const quality = concerns([...blocksOf(parts, "quality"), ...blocksOf(parts, "teams")]);
  const steps = [
    ...shaky.slice(0, 3).map(({ place }) => message("compare.story.next.shaky", { place })),
    ...(quality.length === 0
      ? []
      : [message("compare.story.next.quality", { names: quality.slice(0, 4).map(({ title }) => quoted(title)) })]),
    ...(differsBySeason(parts) ? [message("compare.story.next.season")] : []),
    ...(concerns(blocksOf(parts, "comparability")).length > 0 ? [message("compare.story.next.comparability")] : []),
    ...(parts.refused.length > 0 ? [message("compare.story.next.refused", { count: parts.refused.length })] : []),
  ];
  return steps.length > 0 ? steps : [message("compare.story.next.nothing")];
}

/** True where two rounds of a place that follow each other lie in different months of the year. */
function differsBySeason({ summaries }: StoryParts): boolean {
  return [...roundsOf(summaries).values()].some((rounds) =>
    rounds.slice(1).some((survey, i) => (monthsApart(rounds[i] ?? survey, survey) ?? 0) > 0),
  );
}

/** Names the surveys whose design is not fully known. */
function designCaution({ summaries }: StoryParts): Message[] {
  const open = summaries.filter(({ definition }) => definition.designUnknown.length > 0);
  if (open.length === 0) return [];
  const { names, more } = fewOf(open.map(surveyName));
  const surveys = message("compare.comparability.surveys", { names, more });
  return [message("compare.story.caution.design", { surveys })];
}

function cautionsOf(parts: StoryParts): Message[] {
  const { summaries, seasonNote } = parts;
  const when = (is: boolean, id: string): Message[] => (is ? [message(`compare.story.caution.${id}`)] : []);
  const places = new Set(summaries.map(({ place }) => place)).size;
  return [
    ...when(differsBySeason(parts), "season"),
    ...(seasonNote === null ? [] : [message("compare.story.caution.season-note", { note: seasonNote })]),
    ...when(
      summaries.some(({ clustersRevisited }) => clustersRevisited),
      "revisited",
    ),
    ...designCaution(parts),
    ...when(true, "no-clear-change"),
    ...when(places > 1, "no-ranking"),
    ...when(true, "not-compared"),
    ...when(
      summaries.some(({ formatVersion }) => formatVersion < 2),
      "migrated",
    ),
    message("caution.not-a-diagnosis"),
    message("caution.validity"),
  ];
}

/**
 * Decides what matters in a comparison and in what order: message ids with raw values, no words. Nothing is scored and no
 * place is ranked.
 */
export function tellComparison(parts: StoryParts): Story {
  const headline = headlineOf(parts);
  const sentence =
    headline === null
      ? null
      : together([roundsSentence(parts, headline), repairedSentence(parts, headline), placesSentence(parts, headline)]);
  return {
    sentence: sentence ?? message("compare.story.nothing"),
    paragraphs: paragraphsOf(parts, headline),
    findings: findingsOf(parts),
    next: nextSteps(parts, headline),
    cautions: cautionsOf(parts),
  };
}

/** The heading sentence of a section of the comparison. */
export function comparisonHeading(id: ComparisonSection, parts: StoryParts): Message {
  const blocks = blocksOf(parts, id);
  const found = concerns(blocks);
  const ofQuestion = (question: Pair["question"]): number => {
    const ids = new Set(parts.pairs.filter((pair) => pair.question === question).map((pair) => pair.id));
    return parts.differences.filter((one) => isClear(one) && ids.has(one.pair)).length;
  };
  const names = found.map(({ title }) => quoted(title));
  const heading = (what: string, values = {}): Message => message(`compare.story.heading.${id}.${what}`, values);
  switch (id) {
    case "comparability":
      return heading(found.length > 0 ? "concern" : "expected", { surveys: parts.summaries.length });
    case "levels":
      // Of very many places none is set against another: that none differs clearly would then be no finding.
      if (parts.pairs.every(({ question }) => question !== "places"))
        return heading("not-paired", { surveys: parts.summaries.length });
      return heading("pairs", { surveys: parts.summaries.length, clear: ofQuestion("places") });
    case "changes":
      return heading("pairs", { clear: ofQuestion("rounds") });
    case "paired": {
      const told = parts.differences.filter(({ paired }) => paired !== undefined);
      const clear = told.filter((one) => isClear(one));
      const gone = clear.filter((one) => !isEstablished(one)).length;
      return heading("repaired", { total: told.length, clear: clear.length, gone });
    }
    case "overview":
      return heading("places", { places: new Set(parts.summaries.map(({ place }) => place)).size });
    case "teams": {
      // What returns with a team is a finding, but no reading of any survey: its block has none.
      if (blocks.some(({ finding }) => finding.id === "compare.teams.finding.returning")) return heading("concern");
      if (blocks.every(({ reading }) => reading === "unknown")) return message("section.compare-teams");
      return heading(found.length > 0 ? "concern" : "expected");
    }
    default:
      return found.length > 0 ? heading("concern", { count: found.length, names }) : heading("expected");
  }
}
