import type { DesignGap, OddEffect } from "../../derive/design-gaps.js";
import { message } from "../../results/message.js";
import type { Message } from "../../results/schema.js";
import { plannedDesignEffect } from "../../stats/design/interval.js";

/** The values that the words of a gap speak of. */
export function gapValues(gap: DesignGap): Message["values"] {
  if (gap.id === "odd-design-effect") return oddValues(gap.effects);
  const { id: _, ...values } = gap;
  const plain = Object.entries(values).map(([name, value]) => [
    name,
    typeof value === "boolean" ? (value ? "yes" : "no") : value,
  ]);
  return { ...Object.fromEntries(plain), assumed: plannedDesignEffect };
}

/** Of several, the one furthest from what is plausible. */
function oddValues(effects: readonly OddEffect[]): Message["values"] {
  const far = ({ designEffect, line }: OddEffect): number => Math.abs(Math.log(designEffect / line));
  const [worst] = [...effects].sort((a, b) => far(b) - far(a));
  if (worst === undefined) return {};
  return {
    estimate: message(`estimate.${worst.outcome}`),
    designEffect: worst.designEffect,
    side: worst.side,
    line: worst.line,
    count: effects.length,
  };
}

/** The sentence of a gap that stands beside the figures: on the first page, at the terminal, in a comparison. */
export const gapMessage = (gap: DesignGap): Message => message(`design.${gap.id}`, gapValues(gap));

/** Its short name. */
export const gapName = ({ id }: Pick<DesignGap, "id">): Message => message(`design-gap.${id}`);
