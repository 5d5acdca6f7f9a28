import { askedAgain } from "../consequence/ask-again.js";
import { tellStory } from "../interpret/story.js";
import { mainEstimateIds, shareOfPercentage } from "../results/main-estimates.js";
import { message } from "../results/message.js";
import type { Decision, Results } from "../results/schema.js";
import { UsageError } from "./usage-error.js";

const isMain = (id: string): boolean => (mainEstimateIds as readonly string[]).includes(id);

/** The limits of an option such as 'wasting=8%,stunting=25%'. Throws UsageError for what is none. */
export function limitsAsked(option: string): Decision[] {
  return option.split(/,(?![0-9])/).map((part) => {
    const [estimate = "", percentage = ""] = part.split("=").map((side) => side.trim());
    const limit = shareOfPercentage(percentage);
    if (!isMain(estimate) || limit === null) {
      throw new UsageError(message("cli.usage.decision", { value: part.trim(), known: [...mainEstimateIds] }));
    }
    return { estimate, limit, about: "" };
  });
}

/** Results held against further limits, beside those of their settings. Throws UsageError where they hold no draws to judge by. */
export function withLimitsAsked(results: Results, asked: readonly Decision[]): Results {
  const { consequence } = results;
  if (consequence === undefined || consequence.answers.length === 0)
    throw new UsageError(message("cli.usage.decision-earlier"));
  const given = results.settings.decisions ?? [];
  const more = asked.filter(
    (one) => !given.some(({ estimate, limit }) => estimate === one.estimate && limit === one.limit),
  );
  const decisions = [...given, ...more];
  const anew: Results = {
    ...results,
    settings: { ...results.settings, decisions },
    consequence: askedAgain(consequence, decisions),
  };
  return { ...anew, story: tellStory(anew) };
}
