import type { CommanderError } from "commander";
import { message } from "../results/message.js";
import type { Message } from "../results/schema.js";
import { valueNamed } from "./help.js";

/** What the command line's library says of a call that it cannot read, by its own name for it: the parts that stand in quotes. */
const read: Readonly<Record<string, readonly [id: string, pattern: RegExp, ...names: string[]]>> = {
  "commander.unknownOption": ["unknown-option", /^error: unknown option '(.*?)'(?=\n|$)/s, "option"],
  "commander.unknownCommand": ["unknown-command", /^error: unknown command '(.*?)'(?=\n|$)/s, "command"],
  "commander.missingArgument": ["missing-argument", /^error: missing required argument '(.*?)'/, "name"],
  "commander.optionMissingArgument": ["missing-value", /^error: option '(.*?)(?: <\w+>)?' argument missing/, "option"],
  "commander.excessArguments": ["too-many", /Expected (\d+) arguments? but got (\d+)/, "expected", "received"],
  "commander.invalidArgument": [
    "not-a-choice",
    /^error: option '(.*?)(?: <\w+>)?' argument '(.*)' is invalid\. Allowed choices are (.*)\.$/s,
    "option",
    "value",
    "choices",
  ],
};

/** Counts stay numbers, so that they agree with what they count; the name of a value is put into words. */
function partOf(name: string, text: string): Message["values"][string] {
  if (name === "expected" || name === "received") return Number(text);
  return name === "name" ? valueNamed(text) : text;
}

/** Which options or commands are spelt alike, where there are some. */
function meant(text: string): Message[] {
  const names = /\(Did you mean (?:one of )?(.*)\?\)$/.exec(text)?.[1];
  return names === undefined ? [] : [message("cli.help.meant", { names })];
}

const commands = ["report", "describe", "compare", "render", "example"];

/** What is wrong with a call, and which help to ask for; nothing where only help or the version was asked for. */
export function usageFault({ code, message: text }: CommanderError, args: readonly string[]): Message[] {
  if (/^commander\.(?:help|helpDisplayed|version)$/.test(code)) return [];
  const command = commands.filter((name) => name === args[0]);
  const help = ["tareline", ...command, "--help"].join(" ");
  const [id, pattern, ...names] = read[code] ?? ["unreadable", /^(?:error: )?(.*)$/s, "detail"];
  const parts = pattern.exec(text)?.slice(1);
  if (parts === undefined) return [message("cli.usage.unreadable", { detail: text, help })];
  const values = names.map((name, i) => [name, partOf(name, parts[i] ?? "")] as const);
  return [message(`cli.usage.${id}`, { ...Object.fromEntries(values), help }), ...meant(text)];
}
