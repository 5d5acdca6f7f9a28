import { emptyCell } from "../results/empty-cell.js";
import type { GroupId } from "../results/group.js";
import { message } from "../results/message.js";
import type { EstimateCell, Interval, Message } from "../results/schema.js";
import { confidenceLevel } from "../stats/confidence.js";
import { meanInterval, proportionInterval } from "../stats/design/interval.js";
import { estimateMean } from "../stats/design/mean.js";
import { estimateProportion } from "../stats/design/proportion.js";
import { estimateStandardDeviation } from "../stats/design/standard-deviation.js";
import type { SurveyDesign } from "../stats/design/survey-design.js";
import { classify } from "./classes.js";
import type { ClassScheme } from "./estimate.js";

/** Fewer children than this and a cell is marked: see `withholdBelow`, whose source it shares. */
const markBelow = 50;

type Label = string | Message;

function statusOf(n: number): "shown" | "marked" {
  return n < markBelow ? "marked" : "shown";
}

const finiteOrNull = (value: number): number | null => (Number.isFinite(value) ? value : null);

interface CellInput {
  readonly design: SurveyDesign;
  readonly inDomain: Uint8Array;
  readonly label: Label;
  readonly of: GroupId;
}

/** A cell without children. */
function nobody({ label, of }: CellInput, n: number, clusters: number): EstimateCell | null {
  return n === 0 ? emptyCell({ label, of, n, clusters }, "unknown", message("cell.no-children")) : null;
}

/**
 * Prevalence in a group of children: ratio estimate with linearized variance, logit interval on Student's t with
 * (clusters - strata) degrees of freedom. Where no child or every child is a case the logit is not defined and an
 * exact interval on an assumed effective size takes its place. With one cluster only, no interval can be given.
 */
export function prevalenceCell(
  input: CellInput & { readonly isCase: Uint8Array; readonly scheme?: ClassScheme | undefined },
): EstimateCell {
  const fit = estimateProportion(input.design, input.isCase, input.inDomain);
  const empty = nobody(input, fit.n, fit.clusters);
  if (empty !== null) return empty;
  const { method, low, high } = proportionInterval(fit, confidenceLevel);
  const interval: Interval | null = method === "none" ? null : { low, high, level: confidenceLevel };
  const cell: EstimateCell = {
    label: input.label,
    of: input.of,
    n: fit.n,
    clusters: fit.clusters,
    status: statusOf(fit.n),
    value: fit.estimate,
    standardError: method === "none" ? null : fit.standardError,
    degreesOfFreedom: fit.degreesOfFreedom,
    interval,
    intervalMethod: method === "none" ? null : method === "exact" ? "exact-effective-n" : "logit",
    designEffect: method === "logit" ? finiteOrNull(fit.designEffect) : null,
  };
  if (interval === null) return { ...cell, reason: message("cell.one-cluster") };
  if (input.scheme === undefined) return cell;
  return {
    ...cell,
    classification: classify(input.scheme, fit.estimate, fit.standardError, fit.degreesOfFreedom, interval),
  };
}

/** Mean z-score of a group with linearized variance, t interval, and the standard deviation of the group. */
export function meanCell(input: CellInput & { readonly values: Float64Array }): EstimateCell {
  const fit = estimateMean(input.design, input.values, input.inDomain);
  const empty = nobody(input, fit.n, fit.clusters);
  if (empty !== null) return empty;
  const spread = estimateStandardDeviation(input.design, input.values, input.inDomain);
  const canTell = fit.degreesOfFreedom > 0 && Number.isFinite(fit.standardError);
  const cell: EstimateCell = {
    label: input.label,
    of: input.of,
    n: fit.n,
    clusters: fit.clusters,
    status: statusOf(fit.n),
    value: fit.estimate,
    standardError: canTell ? fit.standardError : null,
    degreesOfFreedom: fit.degreesOfFreedom,
    interval: canTell ? meanInterval(fit.estimate, fit.standardError, fit.degreesOfFreedom, confidenceLevel) : null,
    intervalMethod: canTell ? "t" : null,
    designEffect: canTell ? finiteOrNull(fit.designEffect) : null,
    standardDeviation: finiteOrNull(spread.estimate),
  };
  return canTell ? cell : { ...cell, reason: message("cell.one-cluster") };
}
