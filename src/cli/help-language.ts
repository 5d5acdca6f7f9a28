import { knownLanguages } from "./language.js";
import { firstLanguage } from "./output-options.js";

/** The languages asked for in a call, as typed; undefined where none is. */
function optionIn(args: readonly string[]): string | undefined {
  const at = args.findIndex((arg) => /^--language(?:=|$)/.test(arg));
  const typed = args[at];
  if (typed === undefined) return undefined;
  return typed.includes("=") ? typed.slice(typed.indexOf("=") + 1) : args[at + 1];
}

/** The variables that say the language of messages, the first that is set before the others (POSIX.1-2017, 8.2). */
const variables = ["LC_ALL", "LC_MESSAGES", "LANG"] as const;

/** 'fr_CD.UTF-8' is 'fr'. */
function ofMachine(environment: Readonly<Record<string, string | undefined>>): string | undefined {
  const set = variables.map((name) => environment[name]).find((value) => value !== undefined && value !== "");
  return set === undefined ? undefined : /^[a-z]{2,3}(?![a-z])/i.exec(set)?.[0].toLowerCase();
}

/** The language of help, and of what is said of a call that cannot be read: that of `--language`, else the computer's, else English. */
export function helpLanguage(
  args: readonly string[],
  environment: Readonly<Record<string, string | undefined>>,
): string {
  const known = knownLanguages();
  const wanted = [firstLanguage(optionIn(args)), ofMachine(environment)];
  return wanted.find((language) => language !== undefined && known.includes(language)) ?? "en";
}
