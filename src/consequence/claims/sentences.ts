import { message } from "../../results/message.js";
import type { Answer, Claim, Consequence, Message } from "../../results/schema.js";
import { estimateName } from "../names.js";
import { hundredths } from "./in-hundred.js";

/** What the sentences are made of. */
export type ClaimParts = Pick<Consequence, "answers" | "claims" | "repairs">;

/** Several sentences, one after the other. */
export function sentences(parts: readonly Message[]): Message {
  const [first, ...others] = parts;
  if (first === undefined) throw new Error("No sentence to tell.");
  return others.reduce((before, next) => message("claims.sentences", { first: before, second: next }), first);
}

/** What may be quoted: the published estimate with its interval, never another. */
function quote({ estimate, value, low, high }: Answer): Message {
  const values = { estimate: estimateName(estimate), value };
  if (low === null || high === null) return message("claims.quote.no-interval", values);
  return message("claims.quote", { ...values, low, high });
}

/** The narrowest of what can be said: above the highest limit and below the lowest. */
function said(claims: readonly Claim[]): { readonly above: number | null; readonly below: number | null } {
  const own = claims.filter(({ state }) => state === "can-be-said");
  const above = own.filter(({ side }) => side === "above").map(({ limit }) => limit);
  const below = own.filter(({ side }) => side === "below").map(({ limit }) => limit);
  return {
    above: above.length === 0 ? null : Math.max(...above),
    below: below.length === 0 ? null : Math.min(...below),
  };
}

function saidSentence(claims: readonly Claim[]): Message[] {
  const { above, below } = said(claims);
  if (above !== null && below !== null) return [message("claims.said.between", { above, below })];
  if (above !== null) return [message("claims.said.above", { above })];
  return below === null ? [] : [message("claims.said.below", { below })];
}

/** One limit that is left open, by what, with both chances. */
function openSentence(claim: Claim, repairs: Consequence["repairs"]): Message {
  const { limit, byChance, repaired, state, measuringToo, children, about } = claim;
  if (byChance === null || repaired === null) return message("claims.open.unknown", { limit });
  const label = repairs.find(({ id }) => id === claim.repair)?.label;
  const chances = { limit, chance: hundredths(byChance), repaired: hundredths(repaired) };
  const drawn = repairs.some(({ outcomes }) => outcomes.some(({ estimate }) => estimate === claim.estimate));
  const named = label === undefined ? { named: "no", repair: "" } : { named: "yes", repair: label };
  const kind = state === "open-measuring" ? "measuring" : !drawn ? "sample-only" : measuringToo ? "both" : "sample";
  const open = message(`claims.open.${kind}`, { ...chances, ...named });
  return sentences([
    open,
    ...(children === null ? [] : [message("claims.children", { children, limit })]),
    ...(about === undefined ? [] : [message("claims.about", { about, limit })]),
  ]);
}

const isOpen = ({ state }: Claim): boolean => state !== "can-be-said";

/** Everything that can be said of one main estimate: what to quote, what can be said, what is left open and by what. */
export function answerSentence(answer: Answer, { claims, repairs }: Omit<ClaimParts, "answers">): Message {
  const own = claims.filter(({ estimate }) => estimate === answer.estimate);
  return sentences([
    quote(answer),
    ...saidSentence(own),
    ...own.filter(isOpen).map((one) => openSentence(one, repairs)),
  ]);
}

/** The same in a line, for a heading. */
export function answerHeading(answer: Answer, claims: readonly Claim[]): Message {
  const own = claims.filter(({ estimate }) => estimate === answer.estimate);
  const { above, below } = said(own);
  const open = own.filter(isOpen).map(({ limit }) => message("claims.limit", { limit }));
  return message("claims.heading", {
    estimate: estimateName(answer.estimate),
    said: above !== null && below !== null ? "both" : above !== null ? "above" : below !== null ? "below" : "nothing",
    above: above ?? 0,
    below: below ?? 0,
    open: open.length,
    limits: open,
  });
}
