import { type ChosenSurveys, chooseSurveys } from "../compare/read-summary.js";
import { buildComparison } from "../compare.js";
import { startDrawing } from "../render/charts/draw.js";
import { comparisonFiles } from "../render/comparison.js";
import { readable } from "../render/readable.js";
import { comparisonView } from "../render/view/comparison/page.js";
import type { Words } from "../render/words.js";
import type { Comparison } from "../results/comparison.js";
import { message } from "../results/message.js";
import type { Message } from "../results/schema.js";
import { closest } from "../settings/closest.js";
import { reportDate } from "./clock.js";
import type { Effects } from "./effects.js";
import { type FoundSurveys, findSurveys } from "./find-surveys.js";
import { firstLanguage, formatsOf, languagesOf, type OutputOptions } from "./output-options.js";
import { readSurveys } from "./read-surveys.js";
import { sayingIn, talkIn } from "./saying-in.js";
import { UsageError } from "./usage-error.js";
import { programVersion } from "./version.js";
import { type Output, pathsToSay, writeOutput } from "./write-output.js";

export interface CompareOptions extends OutputOptions {
  readonly date?: string;
  readonly json?: string;
  readonly quiet?: boolean;
}

/** Fewer leave nothing to compare; more would need another kind of page. */
export const fewestSurveys = 2;
export const mostSurveys = 500;

function assertNumber({ settings }: FoundSurveys): void {
  const count = settings.surveys.length;
  if (count < fewestSurveys) throw new UsageError(message("cli.compare.too-few", { count, least: fewestSurveys }));
  if (count > mostSurveys) throw new UsageError(message("cli.compare.too-many", { count, most: mostSurveys }));
}

function refusalsOf({ refused }: Pick<ChosenSurveys, "refused">) {
  return refused.map(({ file, reason }) => message("cli.compare.refused", { file, reason }));
}

/** The output of a comparison. */
export function comparisonOutput(comparison: Comparison): Output {
  return {
    name: comparison.comparison.name,
    page: "comparison",
    document: "comparison.docx",
    madeOn: comparison.madeOn,
    draw: (words) => comparisonFiles(comparison, words),
    drawDocument: async (words) =>
      (await import("../render/docx/render-docx.js")).renderComparisonDocx(comparison, words),
    drawFigures: async (words) =>
      (await import("../render/figure-files.js")).figureFiles(comparisonView(readable(comparison), words), words),
  };
}

/** `tareline compare`: from results, or the surveys they are computed from, to the written comparison. */
export async function compareCommand(
  named: readonly string[],
  options: CompareOptions,
  effects: Effects,
): Promise<void> {
  const talk = await talkIn(options.language, named[0] ?? "");
  await sayingIn(talk, () => makeComparison(named, options, effects, talk));
}

/** Names that compare.yaml gives to estimates, pairs and tiles, and that nothing in the surveys has: each with the nearest that is there. */
function unknownNames({ settings }: FoundSurveys, { summaries }: ChosenSurveys): Message[] {
  const estimates = [...new Set(summaries.flatMap((survey) => [...survey.estimates.keys()]))];
  // A survey that could not be used is known all the same.
  const surveys = [...summaries.flatMap(({ file, key }) => [file, key]), ...settings.surveys.map(({ file }) => file)];
  const places = [...summaries.map(({ place }) => place), ...settings.surveys.flatMap(({ place }) => place ?? [])];
  const unknown = (what: string, named: readonly string[], known: readonly string[]): Message[] =>
    [...new Set(named)]
      .filter((name) => !known.includes(name))
      .map((name) => message("cli.compare.unknown-name", { what, name, suggestion: closest(name, known) ?? "none" }));
  return [
    ...unknown("estimates", settings.estimates ?? [], estimates),
    ...unknown(
      "pairs",
      (settings.pairs ?? []).flatMap(({ first, second }) => [first, second]),
      surveys,
    ),
    ...unknown(
      "tiles",
      (settings.tiles ?? []).flat().filter((name) => !["", "."].includes(name)),
      places,
    ),
  ];
}

function assertNamesKnown(found: FoundSurveys, chosen: ChosenSurveys): void {
  const names = unknownNames(found, chosen);
  if (names.length > 0) throw new UsageError(message("cli.compare.unknown-names", { names, count: names.length }));
}

/** What was kept of the surveys is let go when this returns: the drawing needs room of its own. */
async function comparisonOf(
  found: FoundSurveys,
  options: CompareOptions,
  effects: Effects,
  talk: Talk,
): Promise<Comparison> {
  const date = reportDate(options.date, effects.environment);
  talk.stage("read");
  const read = await readSurveys(found.settings.surveys, found.paths, {
    out: options.out,
    within: found.within,
    today: effects.today,
    onCompute: (file) => talk.progress(message("cli.compare.computing", { file })),
  });
  const chosen = chooseSurveys(read);
  const refusals = refusalsOf(chosen);
  if (chosen.summaries.length < fewestSurveys) {
    const count = chosen.summaries.length;
    throw new UsageError(message("cli.compare.too-few-usable", { count, least: fewestSurveys, refusals }));
  }
  assertNamesKnown(found, chosen);
  for (const refusal of refusals) effects.say(talk.words.text(refusal));
  // It loads its libraries while the surveys are set beside each other.
  if (options.json !== "-") startDrawing();
  talk.stage("compare");
  return buildComparison({ ...chosen, settings: found.settings, date, version: programVersion() });
}

/** What is said while the work goes on. */
interface Talk {
  readonly words: Words;
  /** Said only where somebody watches. */
  progress(said: Message): void;
  stage(name: string): void;
}

function talkOf(words: Words, options: CompareOptions, effects: Effects): Talk {
  const progress = (said: Message): void => {
    if (options.quiet !== true && effects.watched) effects.say(words.text(said));
  };
  return { words, progress, stage: (name) => progress({ id: `cli.stage.${name}`, values: {} }) };
}

async function makeComparison(
  named: readonly string[],
  options: CompareOptions,
  effects: Effects,
  words: Words,
): Promise<void> {
  const talk = talkOf(words, options, effects);
  const formats = formatsOf(options);
  const found = await findSurveys(named, {
    language: firstLanguage(options.language) ?? "en",
    title: (surveys) => words.text(message("cli.compare.title", { surveys })),
  });
  assertNumber(found);
  const languages = languagesOf(options.language, found.settings.language);
  const comparison = await comparisonOf(found, options, effects, talk);
  if (options.json === "-") {
    effects.out(`${JSON.stringify(comparison, null, 1)}\n`);
    return;
  }
  const { out, browser } = options;
  const output = comparisonOutput(comparison);
  const paths = await writeOutput(output, { out, browser, formats, languages, kept: [] }, effects, talk.stage);
  if (options.quiet !== true) for (const line of pathsToSay(paths)) effects.say(line);
}
