import { message } from "../results/message.js";
import type { EstimateCell, Message } from "../results/schema.js";
import { significanceLevel, upperPercentile } from "../stats/confidence.js";
import { poolStudies, usableStudies } from "../stats/meta/pool.js";
import { normalQuantile } from "../stats/normal.js";
import { kindOf, spreadText, valueText } from "./cells.js";
import type { Pooled } from "./pooled.js";
import type { SurveySummary } from "./summary.js";

interface Member {
  readonly survey: SurveySummary;
  readonly cell: EstimateCell;
}

/** One round of one estimate, highest value first. */
export interface Level {
  readonly round: string | null;
  readonly members: readonly Member[];
  readonly pooled: Pooled | undefined;
}

/** A round by name. */
export const roundText = (round: string | null): Message | string => round ?? message("compare.level.no-round");

/** 'under 1 time in 1000' or '4.2 times in 100'. */
const oftenText = (probability: number): Message =>
  probability < 0.001 ? message("compare.level.often.rare") : message("compare.level.often.value", { probability });

/** The spread of one round: from lowest to highest, and whether chance alone could give it. */
export function spreadSentence(estimate: string, { round, members, pooled }: Level): Message {
  const [highest, lowest] = [members[0], members.at(-1)];
  const named = { estimate: message(`estimate.${estimate}`), round: roundText(round), surveys: members.length };
  if (highest?.cell.value == null || lowest?.cell.value == null) return message("compare.level.finding.none", named);
  const top = { high: valueText(estimate, highest.cell.value), highPlace: highest.survey.place };
  if (members.length === 1) return message("compare.level.finding.one", { ...named, ...top });
  const ends = { ...named, ...top, low: valueText(estimate, lowest.cell.value), lowPlace: lowest.survey.place };
  const found = pooled?.heterogeneity;
  if (found == null) return message("compare.level.finding.unknown", ends);
  const kind = found.probability < significanceLevel ? "differ" : "chance";
  return message(`compare.level.finding.${kind}`, { ...ends, often: oftenText(found.probability) });
}

/** With fewer surveys the variance between places is too poorly known to tell a range from it. Our own line. */
const fewestForRange = 5;

/** What I-squared and tau say in words. */
export function heterogeneityMessages(estimate: string, { members, pooled }: Level): Message[] {
  const found = pooled?.heterogeneity;
  if (found == null) return [];
  const { iSquared: share, iSquaredInterval: limits, tauSquared } = found;
  const counts = { share, surveys: members.length };
  const said =
    limits === null
      ? message("compare.level.meaning.share-only", counts)
      : message("compare.level.meaning.share", { ...counts, low: limits.low, high: limits.high });
  if (!(tauSquared > 0) || members.length < fewestForRange) return [said];
  const studies = usableStudies(
    members.map(({ cell }) => cell.value ?? Number.NaN),
    members.map(({ cell }) => (cell.standardError ?? Number.NaN) ** 2),
  );
  const { estimate: mean } = poolStudies(studies, tauSquared);
  const reach = normalQuantile(upperPercentile) * Math.sqrt(tauSquared);
  const least = kindOf(estimate) === "mean" ? mean - reach : Math.max(0, mean - reach);
  const most = kindOf(estimate) === "mean" ? mean + reach : Math.min(1, mean + reach);
  const tau = spreadText(estimate, Math.sqrt(tauSquared));
  return [
    said,
    message("compare.level.meaning.tau", { tau, low: valueText(estimate, least), high: valueText(estimate, most) }),
  ];
}

/** The surveys of the round as one population, or why they are not taken together. */
export function combinedMessage(estimate: string, { round, members, pooled }: Level): Message[] {
  if (pooled === undefined) return [];
  const named = { round: roundText(round), surveys: members.length };
  const { combined, reason } = pooled;
  if (combined === null) {
    return reason === undefined ? [] : [message("compare.pooled.none", { ...named, reason })];
  }
  const value = { ...named, value: valueText(estimate, combined.value) };
  if (combined.interval === null) return [message("compare.pooled.value", value)];
  const { low, high } = combined.interval;
  return [
    message("compare.pooled.interval", { ...value, low: valueText(estimate, low), high: valueText(estimate, high) }),
  ];
}
