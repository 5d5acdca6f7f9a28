/** How unlike the sampling weights are, and whether a figure hangs on a few children who carry much of them. */
import type { Children } from "../../derive/children.js";
import { designShown } from "../../derive/design-gaps.js";
import {
  fewEffective,
  heavyChild,
  heavyChildren,
  isHeavy,
  type WeightsShown,
  weightsShown,
} from "../../derive/weights-shown.js";
import type { GroupId } from "../../results/group.js";
import { message } from "../../results/message.js";
import type { Message, Quantity, Reading } from "../../results/schema.js";
import type { SurveySettings } from "../../settings/settings.js";
import type { Check, RowToCheck } from "../check.js";
import { fewestChildren, mostSerious } from "../shared/reading.js";

/** Children without a weight count nowhere: from these shares of all children on they matter. Our own lines. */
const withoutWeight = { explain: 0.05, doubt: 0.2 } as const;

/** Why no weights are needed, as far as it is known. */
type NotNeeded = "stated" | "alike" | "one-stratum";

/** All numbers of the check; `shown` null where the survey has no weights and needs none. */
export interface SamplingWeightsNumbers {
  readonly of: GroupId;
  readonly children: number;
  readonly shown: WeightsShown | null;
  readonly notNeeded: NotNeeded | null;
}

interface Readings {
  readonly heavy: Reading;
  readonly uneven: Reading;
  readonly without: Reading;
}

/** 'doubt' or 'explain' at or beyond the limits, for a figure that is worse the larger it is. */
function readSize(size: number, limits: { readonly explain: number; readonly doubt: number }): Reading {
  return size >= limits.doubt ? "doubt" : size >= limits.explain ? "explain" : "expected";
}

function readingsOf({ shown, children }: SamplingWeightsNumbers): Readings {
  if (shown === null) return { heavy: "expected", uneven: "expected", without: "expected" };
  const { n, effective, heaviestShare, without } = shown;
  const lost = 1 - effective / n;
  return {
    heavy: isHeavy(heaviestShare, n) ? readSize(heaviestShare, heavyChild) : "expected",
    uneven: lost > 1 - fewEffective.doubt ? "doubt" : lost > 1 - fewEffective.explain ? "explain" : "expected",
    without: readSize(without / children, withoutWeight),
  };
}

function judge(numbers: SamplingWeightsNumbers): Reading {
  const { heavy, uneven, without } = readingsOf(numbers);
  return mostSerious([heavy, uneven, without]);
}

/** Why a survey without weights needs none; or why that cannot be known. */
function withoutWeights(children: Children, settings: SurveySettings): NotNeeded | Message {
  const { chances, drawn } = settings.sampling ?? {};
  if (chances === "equal" || drawn === "everyone") return "stated";
  const gaps = designShown(children, settings).gaps.map(({ id }) => id);
  if (gaps.includes("weights-missing")) return message("checks.sampling-weights.unknown.said");
  if (gaps.includes("unlike-chances")) return message("checks.sampling-weights.unknown.unlike");
  if (gaps.includes("weights-unknown")) return message("checks.sampling-weights.unknown.strata");
  return new Set(children.stratum?.codes).size > 1 ? "alike" : "one-stratum";
}

function valuesOf({ shown, children }: SamplingWeightsNumbers): Message["values"] {
  if (shown === null) return { children };
  const { n, effective, heaviestShare, topShare, topCount, heaviest, lightest, without } = shown;
  const values = { children, n, effective, heaviestShare, topShare, topCount, heaviest, lightest, without };
  return { ...values, kish: n / effective, share: effective / n, withoutShare: without / children };
}

function variant(numbers: SamplingWeightsNumbers): string {
  if (numbers.shown === null) return `none-${numbers.notNeeded}`;
  const readings = readingsOf(numbers);
  const found = (["heavy", "uneven", "without"] as const).filter((id) => readings[id] !== "expected");
  const worst = found.find((id) => readings[id] === "doubt") ?? found[0];
  return worst ?? (numbers.shown.constant ? "constant" : "ordinary");
}

function rowsOf(children: Children, settings: SurveySettings): RowToCheck[] {
  const named = settings.columns["sampling-weight"];
  // Weights made of the population's numbers stand in no column.
  if (named === undefined) return [];
  const columns = typeof named === "string" ? [named] : named;
  return heavyChildren(children).map(({ child, timesMean }) => ({
    sheetRow: children.sheetRow[child] as number,
    columns,
    message: message("checks.sampling-weights.row", { times: timesMean }),
  }));
}

export const samplingWeights: Check<SamplingWeightsNumbers> = {
  id: "sampling-weights",
  section: "who",
  needs: [],
  sources: ["kish-1965", "kish-1992", "own-design-lines"],

  compute({ children, settings, book }) {
    if (children.count < fewestChildren)
      return { cannotTell: message("checks.who.too-few", { n: children.count, least: fewestChildren }) };
    const shown = weightsShown(children);
    const everyone = new Uint8Array(children.count).fill(1);
    const of = book.subject("sampling-weights", everyone).whole;
    if (shown !== null) return { of, children: children.count, shown, notNeeded: null };
    if (children.samplingWeight !== null) return { cannotTell: message("checks.sampling-weights.unknown.empty") };
    const notNeeded = withoutWeights(children, settings);
    if (typeof notNeeded !== "string") return { cannotTell: notNeeded };
    return { of, children: children.count, shown: null, notNeeded };
  },

  judge,

  quantities({ of, shown, children }) {
    if (shown === null) return [];
    const quantity = (id: string, unit: Quantity["unit"], value: number): Quantity => ({
      id,
      of,
      unit,
      value,
      n: children,
    });
    return [
      quantity("effective-number", "ratio", shown.effective),
      quantity("design-effect-of-weights", "ratio", shown.n / shown.effective),
      quantity("heaviest-child-share", "share", shown.heaviestShare),
      quantity("heaviest-twentieth-share", "share", shown.topShare),
      quantity("children-without-weight", "count", shown.without),
    ];
  },

  say(numbers) {
    const { shown } = numbers;
    const values = valuesOf(numbers);
    const readings = readingsOf(numbers);
    const found = (["heavy", "uneven", "without"] as const).filter((id) => readings[id] !== "expected");
    const say = (part: string): Message => message(`checks.sampling-weights.${part}`, values);
    return {
      finding: say(`finding.${variant(numbers)}`),
      meaning: [
        ...(shown === null ? [say(`meaning.none-${numbers.notNeeded}`)] : [say("meaning.effective")]),
        ...(shown === null || shown.constant ? [] : [say("meaning.shares")]),
        ...found.map((id) => say(`meaning.${id}`)),
      ],
      causes: found.map((id) => say(`cause.${id}`)),
      actions: found.map((id) => say(`action.${id}`)),
      method: [
        say("method.effective"),
        message("checks.sampling-weights.method.lines", {
          explain: heavyChild.explain,
          doubt: heavyChild.doubt,
          times: heavyChild.timesMean,
          half: fewEffective.explain,
          fifth: fewEffective.doubt,
          without: withoutWeight.explain,
          withoutDoubt: withoutWeight.doubt,
        }),
      ],
    };
  },

  rows: (_numbers, { children, settings }) => rowsOf(children, settings),
};
