import type { Block, Pair } from "../results/comparison.js";
import { message } from "../results/message.js";
import type { Message } from "../results/schema.js";
import { cellUnder, comparedEstimates, surveyName } from "./cells.js";
import { comparabilityBlock } from "./comparability-block.js";
import { monthsApart } from "./season.js";
import type { SurveySummary } from "./summary.js";
import type { ComparabilitySettings, Together } from "./together.js";

/** Months of the year between two surveys above which their seasons count as different. Our own line. */
const sameSeasonWithin = 1;

/** What may be set against what, and what must be said with it. */
export interface Comparability {
  /** Exclusion rule under which all estimates are taken. */
  readonly rule: string;
  /** The estimates compared, in the order told. */
  readonly estimates: readonly string[];
  /** Why a pair cannot be compared on an estimate; null where it can. */
  blocked(pair: Pair, estimate: string): Message | null;
  /** Short notes on a pair; `block` says once what each means. */
  cautions(pair: Pair, estimate: string): Message[];
  /** The surveys that can stand on one axis for an estimate, and the others with the reason. */
  together(estimate: string): Together;
  /** The table of what differs. */
  readonly block: Block;
}

/** False for the estimates that no height enters: the measuring position does not touch them. */
export function restsOnHeight(estimate: string): boolean {
  return !/arm-circumference|underweight|oedema|mean-(weight|arm|head)-for-age/.test(estimate);
}

const ruleOf = ({ definition: { exclusionRule, widthAroundMean } }: SurveySummary): string =>
  exclusionRule === "around-mean" ? `${exclusionRule} ${widthAroundMean}` : exclusionRule;

/**
 * The rule all surveys are taken under: the one asked for, the one they share, else fixed limits, which do not hang on the survey's
 * own mean.
 */
export function commonRule(summaries: readonly SurveySummary[], asked: string | null): string {
  if (asked !== null) return asked;
  const [first] = summaries;
  if (first === undefined) return "fixed";
  return new Set(summaries.map(ruleOf)).size === 1 ? first.definition.exclusionRule : "fixed";
}

/** What of a survey's definition an estimate must share to be compared. */
function definitionFor({ definition }: SurveySummary, estimate: string, rule: string): string {
  const { ageFrom, ageTo, positionRule, widthAroundMean } = definition;
  const position = restsOnHeight(estimate) ? positionRule : "";
  return [ageFrom, ageTo, position, rule === "around-mean" ? widthAroundMean : ""].join(" ");
}

/** Why a survey has no figure for an estimate; null where it has one. */
function missing(survey: SurveySummary, estimate: string, rule: string): Message | null {
  const named = { survey: surveyName(survey) };
  const found = survey.estimates.get(estimate);
  if (found === undefined) return message("compare.comparability.blocked.absent", named);
  const cell = cellUnder(survey, estimate, rule);
  if (cell?.value != null) return null;
  if (cell?.status === "withheld") return message("compare.comparability.blocked.withheld", named);
  if (found.reason !== null)
    return message("compare.comparability.blocked.lacking", { ...named, reason: found.reason });
  if (cell?.reason === undefined) return message("compare.comparability.blocked.absent", named);
  return message("compare.comparability.blocked.missing", { ...named, reason: cell.reason });
}

/** Why the definitions of two surveys keep an estimate from being compared; null where they do not. */
function definitionsDiffer(first: SurveySummary, second: SurveySummary, estimate: string, rule: string) {
  const [one, two] = [first.definition, second.definition];
  if (one.ageFrom !== two.ageFrom || one.ageTo !== two.ageTo) {
    const ages = { from: one.ageFrom, to: one.ageTo, otherFrom: two.ageFrom, otherTo: two.ageTo };
    return message("compare.comparability.blocked.ages", ages);
  }
  if (one.positionRule !== two.positionRule && restsOnHeight(estimate)) {
    return message("compare.comparability.blocked.position");
  }
  if (rule === "around-mean" && one.widthAroundMean !== two.widthAroundMean) {
    const widths = { width: one.widthAroundMean, other: two.widthAroundMean };
    return message("compare.comparability.blocked.width", widths);
  }
  return null;
}

/** The largest set of surveys with one definition; of sets alike in size the one that comes first. */
function togetherOf(summaries: readonly SurveySummary[], estimate: string, rule: string): Together {
  const sets = new Map<string, SurveySummary[]>();
  const leftOut: { survey: SurveySummary; reason: Message }[] = [];
  for (const survey of summaries) {
    const reason = missing(survey, estimate, rule);
    const key = definitionFor(survey, estimate, rule);
    if (reason !== null) leftOut.push({ survey, reason });
    else if (sets.has(key)) sets.get(key)?.push(survey);
    else sets.set(key, [survey]);
  }
  const surveys = [...sets.values()].reduce((most, set) => (set.length > most.length ? set : most), []);
  const [model] = surveys;
  for (const set of sets.values()) {
    if (set === surveys || model === undefined) continue;
    for (const survey of set) {
      const reason = definitionsDiffer(survey, model, estimate, rule);
      if (reason !== null) leftOut.push({ survey, reason });
    }
  }
  return { surveys, leftOut };
}

/** Short notes on a pair, in the order of weight. */
function notesOf(pair: Pair, first: SurveySummary, second: SurveySummary): Message[] {
  const notes: Message[] = [];
  const apart = monthsApart(first, second);
  if (apart === null) notes.push(message("compare.comparability.note.no-dates"));
  else if (apart > sameSeasonWithin) notes.push(message("compare.comparability.note.season"));
  if (pair.question === "rounds" && (first.clustersRevisited || second.clustersRevisited)) {
    notes.push(message("compare.comparability.note.revisited"));
  }
  if ([first, second].some(({ definition }) => definition.designUnknown.length > 0)) {
    notes.push(message("compare.comparability.note.design"));
  }
  if (first.definition.weighted !== second.definition.weighted) {
    notes.push(message("compare.comparability.note.weights"));
  }
  if (pair.question === "rounds" && first.population !== second.population) {
    notes.push(message("compare.comparability.note.population"));
  }
  if (first.toolVersion !== second.toolVersion) notes.push(message("compare.comparability.note.version"));
  return notes;
}

/** Compares the definitions of all surveys and decides, for every pair and estimate, what may be said. */
export function comparabilityOf(summaries: readonly SurveySummary[], settings: ComparabilitySettings): Comparability {
  const rule = commonRule(summaries, settings.rule);
  const estimates = comparedEstimates(summaries, settings.estimates);
  const survey = new Map(summaries.map((one) => [one.key, one]));
  const both = ({ first, second }: Pair): readonly [SurveySummary, SurveySummary] => {
    const [one, two] = [survey.get(first), survey.get(second)];
    if (one === undefined || two === undefined)
      throw new RangeError(`A survey of the pair ${first}..${second} is not here.`);
    return [one, two];
  };
  const known = new Map<string, Together>();
  const together = (estimate: string): Together => {
    const found = known.get(estimate) ?? togetherOf(summaries, estimate, rule);
    known.set(estimate, found);
    return found;
  };
  return {
    rule,
    estimates,
    blocked: (pair, estimate) => {
      const [first, second] = both(pair);
      const none = missing(first, estimate, rule) ?? missing(second, estimate, rule);
      return none ?? definitionsDiffer(first, second, estimate, rule);
    },
    cautions: (pair, estimate) => {
      const [first, second] = both(pair);
      const few = [first, second].some((one) => cellUnder(one, estimate, rule)?.status === "marked");
      return [...notesOf(pair, first, second), ...(few ? [message("compare.comparability.note.few")] : [])];
    },
    together,
    block: comparabilityBlock(summaries, settings, { rule, estimates, together }),
  };
}
