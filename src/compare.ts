import { changesOf } from "./compare/changes.js";
import { comparabilityOf } from "./compare/comparability.js";
import type { CompareSettings } from "./compare/compare-settings.js";
import { comparisonHeading, tellComparison } from "./compare/compare-story.js";
import { differencesOf } from "./compare/differences.js";
import { levelsOf } from "./compare/levels.js";
import { overviewOf } from "./compare/overview.js";
import { pairedBlocks } from "./compare/paired.js";
import { pairedScenariosOf, withPaired } from "./compare/paired-scenarios.js";
import { pairsOf } from "./compare/pairs.js";
import { pooledOf } from "./compare/pooled.js";
import { qualityBlocks } from "./compare/quality.js";
import { storedScenarios } from "./compare/stored-scenarios.js";
import type { StoryParts } from "./compare/story-parts.js";
import type { SurveySummary } from "./compare/summary.js";
import { teamBlocks } from "./compare/teams.js";
import type { Comparison } from "./results/comparison.js";
import { sources } from "./results/sources.js";

export interface ComparisonInput {
  /** At least two, with keys of their own. */
  readonly summaries: readonly SurveySummary[];
  /** Files that could not be used. */
  readonly refused: readonly Comparison["refused"][number][];
  readonly settings: CompareSettings;
  /** ISO day the comparison carries; null takes the last interview day of all surveys. */
  readonly date: string | null;
  readonly version: string;
}

function lastDay(summaries: readonly SurveySummary[]): string | null {
  return summaries.reduce<string | null>(
    (last, survey) => (survey.lastDay !== null && (last === null || survey.lastDay > last) ? survey.lastDay : last),
    null,
  );
}

function citedSources(sections: StoryParts["sections"]): Comparison["sources"] {
  const cited = new Set(["who-2006", "who-2007"]);
  for (const { blocks } of sections) for (const block of blocks) for (const id of block.sources) cited.add(id);
  return [...cited].map((id) => {
    const source = sources.get(id);
    if (source === undefined) throw new Error(`The source '${id}' is cited but not listed in results/sources.ts.`);
    return source;
  });
}

function surveyEntry(survey: SurveySummary): Comparison["surveys"][number] {
  const { key, title, place, round, group, firstDay, lastDay, children, clusters, populationSize } = survey;
  const { file, sha256, toolVersion, formatVersion } = survey;
  const about = { key, title, place, round, group, firstDay, lastDay, children, clusters, populationSize };
  return { ...about, file, sha256, toolVersion, formatVersion };
}

/**
 * The whole comparison between reading and drawing: what was kept of each survey in, the comparison out. Pure: no disk, no
 * clock, no browser.
 */
export function buildComparison(input: ComparisonInput): Comparison {
  const { summaries, refused, settings } = input;
  const comparability = comparabilityOf(summaries, settings);
  const { rule, estimates } = comparability;
  const pairs = pairsOf(summaries, settings);
  const plain = differencesOf(pairs, summaries, comparability);
  const pairedScenarios = pairedScenariosOf(pairs, summaries, plain);
  const differences = withPaired(plain, pairedScenarios);
  const pooled = pooledOf(comparability);
  const compared = { summaries, pairs, differences, comparability };
  const paired = { summaries, pairs, differences, scenarios: pairedScenarios };
  const stored = storedScenarios(paired, settings);
  const sections: StoryParts["sections"] = [
    { id: "comparability", blocks: [comparability.block] },
    { id: "overview", blocks: overviewOf(summaries, differences, settings, comparability) },
    // With no round of two surveys there is nothing side by side.
    { id: "levels", blocks: pooled.length === 0 ? [] : levelsOf({ ...compared, pooled }) },
    { id: "changes", blocks: changesOf(compared) },
    { id: "paired", blocks: pairedBlocks(paired, estimates, stored.length) },
    { id: "quality", blocks: qualityBlocks(summaries) },
    { id: "teams", blocks: teamBlocks(summaries) },
  ];
  const told = sections.filter(({ blocks }) => blocks.length > 0);
  const { seasonNote } = settings;
  const parts = { summaries, refused, pairs, differences, pooled, sections: told, estimates, rule, seasonNote };
  const { name, title, language } = settings;
  return {
    format: "tareline-comparison",
    version: 1,
    tool: { name: "Tareline", version: input.version },
    madeOn: input.date ?? lastDay(summaries),
    comparison: { name, title, language, invented: summaries.some(({ invented }) => invented) },
    surveys: summaries.map(surveyEntry),
    refused: [...refused],
    settings: { ...settings, rule },
    pairs,
    differences,
    pairedScenarios: [...stored],
    pooled,
    sections: told.map(({ id, blocks }) => ({ id, heading: comparisonHeading(id, parts), blocks: [...blocks] })),
    story: tellComparison(parts),
    sources: citedSources(told),
  };
}
