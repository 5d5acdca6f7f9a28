/** What the file shows of how the sample was drawn, and what it does not: intervals are only as good as the design they rest on. */
import type { Children } from "../../derive/children.js";
import { designOf } from "../../derive/design.js";
import {
  type DesignGap,
  designShown,
  fewClusters,
  fewestPerCluster,
  type MainEffect,
  plausibleEffect,
  unlikeChances,
  veryFewClusters,
} from "../../derive/design-gaps.js";
import type { GroupBook } from "../../disclosure/book.js";
import { type GroupId, noChildren } from "../../results/group.js";
import { message } from "../../results/message.js";
import type { Message, Quantity, Reading } from "../../results/schema.js";
import type { SurveySettings } from "../../settings/settings.js";
import { chiSquareQuantile } from "../../stats/chi-square.js";
import { designShape } from "../../stats/design/survey-design.js";
import { studentQuantile } from "../../stats/student-t.js";
import type { Check } from "../check.js";
import { gapName, gapValues } from "../shared/gap-words.js";
import { chanceLevel, fewestChildren, mostSerious } from "../shared/reading.js";

/** A design effect of one main estimate, as told. */
interface ToldEffect extends MainEffect {
  readonly of: GroupId;
}

/** What this check tells of; the check on weights tells the rest. */
type OwnGap = Exclude<DesignGap, { readonly id: "heavy-child" | "uneven-weights" }>;
/** Where nothing tells whether it matters, it is no finding. */
type SeriousGap = Exclude<OwnGap, { readonly id: "weights-unknown" }>;

const isOwn = (gap: DesignGap): gap is OwnGap => gap.id !== "heavy-child" && gap.id !== "uneven-weights";
const isSerious = (gap: OwnGap): gap is SeriousGap => gap.id !== "weights-unknown";

/** All numbers of the check. */
export interface DesignKnownNumbers {
  readonly gaps: readonly OwnGap[];
  /** Null without a cluster column. */
  readonly clusters: number | null;
  readonly children: number;
  readonly strata: number;
  readonly degreesOfFreedom: number;
  /** How the sample was drawn, as the survey says. */
  readonly drawn: NonNullable<SurveySettings["sampling"]>["drawn"] | null;
  /** The finite population correction: none, with the children of clusters known, or without. */
  readonly finite: "none" | "known" | "open";
  readonly effects: readonly ToldEffect[];
}

/** How serious a gap is; 'unknown' where nothing tells whether it matters. */
export function readGap(gap: DesignGap): Reading {
  switch (gap.id) {
    case "no-clusters":
      return gap.said ? "doubt" : "explain";
    case "cluster-per-child":
    case "weights-missing":
      return "doubt";
    case "few-clusters":
      return gap.clusters < veryFewClusters ? "doubt" : "explain";
    case "single-cluster-strata":
      return gap.none ? "doubt" : "explain";
    case "unlike-chances":
      return gap.ratio >= unlikeChances.doubt ? "doubt" : "explain";
    case "odd-design-effect": {
      const strong = gap.effects.some(
        ({ side, probability, designEffect, line }) =>
          probability < chanceLevel.doubt && (side === "low" || designEffect >= 2 * line),
      );
      return strong ? "doubt" : "explain";
    }
    default:
      return "unknown";
  }
}

const seriousGaps = ({ gaps }: DesignKnownNumbers): SeriousGap[] => gaps.filter(isSerious);

function finiteOf(children: Children, settings: SurveySettings): DesignKnownNumbers["finite"] {
  const { clustersInPopulation, membersInPopulation } = designOf(children, settings);
  if (clustersInPopulation === null) return "none";
  return membersInPopulation?.every((members) => !Number.isNaN(members)) === true ? "known" : "open";
}

function numbersOf(children: Children, settings: SurveySettings, book: GroupBook): DesignKnownNumbers {
  const { gaps, effects } = designShown(children, settings);
  const design = designOf(children, settings);
  const strata = designShape(design).clustersInStratum.filter((count) => count > 0).length;
  return {
    gaps: gaps.filter(isOwn),
    clusters: children.cluster === null ? null : design.clusterCount,
    children: children.count,
    strata,
    degreesOfFreedom: design.clusterCount - strata,
    drawn: settings.sampling?.drawn ?? null,
    finite: finiteOf(children, settings),
    effects: effects.map((effect) => ({
      ...effect,
      of: book.subject(`design-effect/${effect.outcome}`, effect.inDomain).whole,
    })),
  };
}

/** What the design is, where nothing is to be said against it. */
function shownAs({ clusters, drawn }: DesignKnownNumbers): "shown" | "stated-everyone" | "stated-children" {
  if (clusters === null) return drawn === "everyone" ? "stated-everyone" : "stated-children";
  return "shown";
}

function valuesOf(numbers: DesignKnownNumbers): Message["values"] {
  const { clusters, children, strata, degreesOfFreedom } = numbers;
  return { clusters: clusters ?? 0, children, strata, df: degreesOfFreedom, count: seriousGaps(numbers).length };
}

function findingOf(numbers: DesignKnownNumbers): Message {
  const [first, ...others] = seriousGaps(numbers);
  const values = valuesOf(numbers);
  if (first === undefined) return message(`checks.design-known.finding.${shownAs(numbers)}`, values);
  if (others.length === 0) return message(`checks.design-known.finding.${first.id}`, gapValues(first));
  return message("checks.design-known.finding.several", { ...values, gaps: [first, ...others].map(gapName) });
}

/** How much wider Student's t makes an interval than the normal distribution; left out where there are no degrees of freedom. */
function widthWords({ degreesOfFreedom: df, clusters }: DesignKnownNumbers): Message[] {
  if (clusters === null || df < 1) return [];
  const t = studentQuantile(0.975, df);
  return [message("checks.design-known.meaning.width", { df, t, wider: t / studentQuantile(0.975, 1e9) - 1 })];
}

/** Which cause is named, and what to do, for each gap. */
const followed: Readonly<Record<string, { readonly causes: readonly string[]; readonly action: string }>> = {
  "no-clusters": { causes: ["left-out", "simple"], action: "clusters" },
  "cluster-per-child": { causes: ["wrong-column"], action: "clusters" },
  "few-clusters": { causes: ["small-area"], action: "few" },
  "single-cluster-strata": { causes: ["after"], action: "merge" },
  "unlike-chances": { causes: ["not-joined"], action: "weights" },
  "weights-missing": { causes: ["not-joined"], action: "weights" },
  "weights-unknown": { causes: [], action: "chances" },
  "odd-design-effect": { causes: ["even", "places"], action: "effect" },
};

const unique = <Value>(values: readonly Value[]): Value[] => [...new Set(values)];

export const designKnown: Check<DesignKnownNumbers> = {
  id: "design-known",
  section: "who",
  needs: [],
  sources: ["own-design-lines", "kish-1965", "hulland-2016", "kaiser-2006", "holm-1979", "cochran-1977"],
  compute: ({ children, settings, book }) =>
    children.count < fewestChildren
      ? { cannotTell: message("checks.who.too-few", { n: children.count, least: fewestChildren }) }
      : numbersOf(children, settings, book),
  judge: ({ gaps }) => mostSerious(["expected", ...gaps.map(readGap)]),

  quantities(numbers) {
    const { clusters, children, strata, degreesOfFreedom } = numbers;
    const shown: Quantity[] =
      clusters === null
        ? []
        : [
            { id: "clusters-shown", of: noChildren, unit: "count", value: clusters },
            { id: "strata-shown", of: noChildren, unit: "count", value: strata },
            { id: "design-degrees-of-freedom", of: noChildren, unit: "degrees-of-freedom", value: degreesOfFreedom },
            { id: "children-per-cluster", of: noChildren, unit: "ratio", value: children / clusters },
          ];
    const effects = numbers.effects.map(
      ({ outcome, of, n, designEffect, degreesOfFreedom: df }): Quantity => ({
        id: `main-design-effect-${outcome}`,
        of,
        unit: "ratio",
        value: designEffect,
        n,
        chance: { expected: 1, low: chiSquareQuantile(0.025, df) / df, high: chiSquareQuantile(0.975, df) / df },
      }),
    );
    return [...shown, ...effects];
  },

  say(numbers) {
    const { gaps } = numbers;
    const values = valuesOf(numbers);
    const ids = gaps.flatMap(({ id }) => followed[id] ?? []);
    return {
      finding: findingOf(numbers),
      meaning: [
        message(`checks.design-known.meaning.${shownAs(numbers) === "shown" ? "shown" : "single"}`, values),
        ...gaps.map((gap) => message(`checks.design-known.meaning.${gap.id}`, gapValues(gap))),
        ...widthWords(numbers),
      ],
      causes: unique(ids.flatMap(({ causes }) => causes)).map((id) => message(`checks.design-known.cause.${id}`)),
      actions: unique(ids.map(({ action }) => action)).map((id) => message(`checks.design-known.action.${id}`)),
      method: [
        message("checks.design-known.method.clusters", {
          few: fewClusters,
          veryFew: veryFewClusters,
          fewest: fewestPerCluster,
        }),
        message("checks.design-known.method.chances", unlikeChances),
        message("checks.design-known.method.effect", plausibleEffect),
        ...(numbers.finite === "none" ? [] : [message(`checks.design-known.method.finite-${numbers.finite}`)]),
      ],
    };
  },
};
