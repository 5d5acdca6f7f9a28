import { templateNames } from "../render/templates.js";
import { loadWords, type Words } from "../render/words.js";
import { message } from "../results/message.js";
import { showValue } from "../settings/show-value.js";
import { UsageError } from "./usage-error.js";

/** English, the pseudo-language, and every language with a file of its own. */
export function knownLanguages(): string[] {
  const own = templateNames("locales", ".json").map((name) => name.replace(/\.json$/, ""));
  return [...new Set(["en", ...own, "xx"])];
}

/** The words of a language; one that has no words is refused rather than drawn in English under its name. */
export function wordsOf(language: string): Words {
  const known = knownLanguages();
  if (!known.includes(language)) {
    // The pseudo-language is for those who look for words that are missing: it is understood, and not offered.
    const offered = known.filter((one) => one !== "xx");
    throw new UsageError(message("cli.usage.language", { value: showValue(language), known: offered }));
  }
  return loadWords(language);
}
