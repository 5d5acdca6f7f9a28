import type { Pair } from "../results/comparison.js";
import { message } from "../results/message.js";
import type { Message } from "../results/schema.js";
import { surveyName } from "./cells.js";
import type { SurveySummary } from "./summary.js";

/** A pair by name: 'Yundeth, 2024-03 to 2024-10'; of two places with the round, since the same two meet in every round. */
export function pairName({ question }: Pair, first: SurveySummary, second: SurveySummary): Message {
  if (question === "rounds") {
    return message("compare.pair.rounds", {
      place: second.place,
      first: first.round ?? first.title,
      second: second.round ?? second.title,
    });
  }
  if (first.round !== null && first.round === second.round) {
    return message("compare.pair.in-round", { first: first.place, second: second.place, round: first.round });
  }
  return message("compare.pair.places", { first: surveyName(first), second: surveyName(second) });
}
