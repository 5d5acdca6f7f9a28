import type { SurveySettings } from "../settings/settings.js";
import { chiSquareLower, chiSquareUpper } from "../stats/chi-square.js";
import { estimateProportion } from "../stats/design/proportion.js";
import { designShape } from "../stats/design/survey-design.js";
import { holm } from "../stats/holm.js";
import type { Children } from "./children.js";
import { designOf } from "./design.js";
import { type OutcomeId, outcome } from "./outcome.js";
import { fewEffective, isHeavy, weightsShown } from "./weights-shown.js";

/** Fewer clusters than this, and Student's t widens every interval by a tenth or more: our own line. */
export const fewClusters = 10;
/** Fewer clusters than this carry no interval worth the name (t on 3 degrees of freedom is 3.18 in place of 1.96): our own line. */
export const veryFewClusters = 5;
/** Fewer children to a cluster than this, on average: a number of children, forms or households rather than of places. Our own line. */
export const fewestPerCluster = 2;
/** Strata whose children had chances further apart than this need weights; beyond the second, figures without them are in doubt. Our own lines. */
export const unlikeChances = { explain: 1.5, doubt: 3 } as const;
/**
 * Design effects outside these are implausible. Half of 380 surveys had 1.35 or less for wasting and most below 2 (Hulland et al.
 * 2016); the limits are our own, the upper at 25 children to a cluster, larger in proportion with more (same intracluster correlation).
 */
export const plausibleEffect = { low: 0.3, high: 6, ordinary: 2, childrenPerCluster: 25 } as const;

/** A design effect of a main estimate that is implausible. */
export interface OddEffect {
  readonly outcome: OutcomeId;
  readonly designEffect: number;
  readonly side: "low" | "high";
  /** Chance of one as low under simple random sampling, or as high under an ordinary design effect of 2; adjusted by Holm. */
  readonly probability: number;
  readonly degreesOfFreedom: number;
  readonly line: number;
}

/** Something about the sampling design that the file does not show, or that what it shows cannot carry. */
export type DesignGap =
  /** No cluster column; `said` where the survey says that it drew clusters. */
  | { readonly id: "no-clusters"; readonly said: boolean }
  /** A cluster column that names nearly every child. */
  | { readonly id: "cluster-per-child"; readonly clusters: number; readonly children: number }
  | { readonly id: "few-clusters"; readonly clusters: number; readonly degreesOfFreedom: number }
  | { readonly id: "single-cluster-strata"; readonly single: number; readonly strata: number; readonly none: boolean }
  /** Children of the strata had unlike chances, and there are no weights. */
  | { readonly id: "unlike-chances"; readonly ratio: number }
  /** The survey says that chances were unequal, and there are no weights. */
  | { readonly id: "weights-missing" }
  /** Strata without weights, and nothing that tells the chances. */
  | { readonly id: "weights-unknown"; readonly strata: number }
  | { readonly id: "heavy-child"; readonly share: number }
  | { readonly id: "uneven-weights"; readonly n: number; readonly effective: number }
  | { readonly id: "odd-design-effect"; readonly effects: readonly OddEffect[] };

function clusterGaps(children: Children, settings: SurveySettings): DesignGap[] {
  const drawn = settings.sampling?.drawn;
  if (children.cluster === null) {
    return drawn === "children" || drawn === "everyone" ? [] : [{ id: "no-clusters", said: drawn === "clusters" }];
  }
  const { clusterCount: clusters, ...design } = designOf(children, settings);
  if (clusters > 1 && children.count / clusters < fewestPerCluster && (drawn ?? "clusters") === "clusters")
    return [{ id: "cluster-per-child", clusters, children: children.count }];
  if (drawn === "everyone") return [];
  const gaps: DesignGap[] = [];
  const perStratum = designShape({ clusterCount: clusters, ...design }).clustersInStratum;
  const strata = perStratum.filter((count) => count > 0).length;
  const degreesOfFreedom = clusters - strata;
  const single = perStratum.filter((count) => count === 1).length;
  if (clusters < fewClusters) gaps.push({ id: "few-clusters", clusters, degreesOfFreedom });
  if (single > 0 && strata > 1)
    gaps.push({ id: "single-cluster-strata", single, strata, none: degreesOfFreedom === 0 });
  return gaps;
}

/**
 * Largest over smallest chance of a child of a stratum to be in the survey, as far as the settings tell it: children
 * measured over clusters of the population there, times children in a cluster where that is given for every stratum (else
 * clusters are taken to hold as many children everywhere). NaN where it cannot be known.
 */
export function ratioOfChances({ stratum }: Children, settings: SurveySettings): number {
  const { clustersInPopulation: clusters, childrenPerCluster: perCluster } = settings;
  if (stratum === null || clusters === null) return Number.NaN;
  const measured = new Map<number, number>();
  for (const code of stratum.codes) if (code >= 0) measured.set(code, (measured.get(code) ?? 0) + 1);
  const labels = [...measured.keys()].map((code) => stratum.labels[code] ?? "");
  const sized = labels.every((label) => perCluster?.[label] !== undefined);
  const chances = [...measured].map(([code, n]) => {
    const label = stratum.labels[code] ?? "";
    return n / ((clusters[label] ?? Number.NaN) * (sized ? (perCluster?.[label] ?? Number.NaN) : 1));
  });
  return chances.length < 2 ? Number.NaN : Math.max(...chances) / Math.min(...chances);
}

function weightGaps(children: Children, settings: SurveySettings): DesignGap[] {
  const shown = weightsShown(children);
  const chances = settings.sampling?.chances;
  const strata = new Set(children.stratum?.codes).size;
  if (shown === null || shown.constant) {
    if (chances === "equal" || settings.sampling?.drawn === "everyone") return [];
    if (chances === "unequal") return [{ id: "weights-missing" }];
    const ratio = ratioOfChances(children, settings);
    if (ratio >= unlikeChances.explain) return [{ id: "unlike-chances", ratio }];
    return strata > 1 && shown === null && Number.isNaN(ratio) ? [{ id: "weights-unknown", strata }] : [];
  }
  const gaps: DesignGap[] = [];
  if (isHeavy(shown.heaviestShare, shown.n)) gaps.push({ id: "heavy-child", share: shown.heaviestShare });
  if (shown.effective < fewEffective.explain * shown.n)
    gaps.push({ id: "uneven-weights", n: shown.n, effective: shown.effective });
  return gaps;
}

const mainOutcomes: readonly OutcomeId[] = [
  "wasting",
  "acute-malnutrition-by-arm-circumference",
  "stunting",
  "underweight",
];

/** Fewer cases, or fewer who are none, and a design effect says nothing: our own line. */
const fewestCases = 10;

/** A design effect of a main estimate, without the finite population correction, and what is implausible there. */
export interface MainEffect {
  readonly outcome: OutcomeId;
  readonly inDomain: Uint8Array;
  readonly n: number;
  readonly designEffect: number;
  readonly degreesOfFreedom: number;
  /** The largest plausible one for clusters of this size and these weights. */
  readonly high: number;
  readonly lowProbability: number;
  readonly highProbability: number;
}

/**
 * Design effects of the main estimates with ten cases or more, in a survey of ten clusters or more. With df degrees of freedom,
 * an estimated design effect over the true one is about a chi-square over df.
 */
export function mainEffects(children: Children, settings: SurveySettings): MainEffect[] {
  if (children.cluster === null) return [];
  const design = { ...designOf(children, settings), clustersInPopulation: null };
  if (design.clusterCount < fewClusters || children.count / design.clusterCount < fewestPerCluster) return [];
  const shown = weightsShown(children);
  const fromWeights = shown === null ? 1 : shown.n / shown.effective;
  return mainOutcomes.flatMap((id): MainEffect[] => {
    const { isCase, inDomain } = outcome(children, id, settings.exclusions.default);
    const { n, cases, designEffect, degreesOfFreedom: df, clusters } = estimateProportion(design, isCase, inDomain);
    if (cases < fewestCases || n - cases < fewestCases || df < 1 || Number.isNaN(designEffect)) return [];
    const { high, ordinary, childrenPerCluster } = plausibleEffect;
    const line = Math.max(high, 1 + ((n / clusters - 1) * (high - 1)) / (childrenPerCluster - 1)) * fromWeights;
    return [
      {
        outcome: id,
        inDomain,
        n,
        designEffect,
        degreesOfFreedom: df,
        high: line,
        lowProbability: chiSquareLower(designEffect * df, df),
        highProbability: chiSquareUpper((designEffect * df) / (ordinary * fromWeights), df),
      },
    ];
  });
}

/** Chance, after Holm's control over the main estimates, below which a design effect outside the limits is no accident. */
const chance = 0.05;

function oddEffects(effects: readonly MainEffect[]): OddEffect[] {
  const low = holm(effects.map(({ lowProbability }) => lowProbability));
  const high = holm(effects.map(({ highProbability }) => highProbability));
  return effects.flatMap((effect, i): OddEffect[] => {
    const { outcome: id, designEffect, degreesOfFreedom } = effect;
    const base = { outcome: id, designEffect, degreesOfFreedom };
    const [tooLow, tooHigh] = [low[i] as number, high[i] as number];
    if (designEffect < plausibleEffect.low && tooLow < chance)
      return [{ ...base, side: "low", probability: tooLow, line: plausibleEffect.low }];
    if (designEffect > effect.high && tooHigh < chance)
      return [{ ...base, side: "high", probability: tooHigh, line: effect.high }];
    return [];
  });
}

/** The gaps, and the design effects looked at. */
export interface DesignShown {
  readonly gaps: readonly DesignGap[];
  readonly effects: readonly MainEffect[];
}

const known = new WeakMap<Children, WeakMap<SurveySettings, DesignShown>>();

function lookAt(children: Children, settings: SurveySettings): DesignShown {
  if (children.count === 0) return { gaps: [], effects: [] };
  const effects = mainEffects(children, settings);
  const odd = oddEffects(effects);
  const gaps = [...clusterGaps(children, settings), ...weightGaps(children, settings)];
  return { gaps: odd.length === 0 ? gaps : [...gaps, { id: "odd-design-effect", effects: odd }], effects };
}

/** What the file does not show of the sampling design, the most telling first. Made once for the same children and settings. */
export function designShown(children: Children, settings: SurveySettings): DesignShown {
  const ofChildren = known.get(children) ?? new WeakMap<SurveySettings, DesignShown>();
  known.set(children, ofChildren);
  const shown = ofChildren.get(settings) ?? lookAt(children, settings);
  ofChildren.set(settings, shown);
  return shown;
}

/** Whether single children, or nobody knows what, stand where clusters should: then intervals are too narrow. */
export const hidesClusters = ({ id }: DesignGap): boolean => id === "no-clusters" || id === "cluster-per-child";
