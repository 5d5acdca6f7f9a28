import { type Argument, type Command, Help, type Option } from "commander";
import { withoutIsolates } from "../render/isolate.js";
import type { Words } from "../render/words.js";
import { message, type ValuesOf } from "../results/message.js";
import type { Message } from "../results/schema.js";

const titles: Readonly<Record<string, string>> = {
  "Usage:": "usage",
  "Arguments:": "arguments",
  "Options:": "options",
  "Commands:": "commands",
};

/** Calls shown over the help of a command. */
const examples: Readonly<Record<string, readonly string[]>> = {
  report: ["tareline report sample-input/quillmar.yaml", "tareline report my-survey.csv --out reports"],
  compare: [
    "tareline compare sample-input/two-rounds",
    "tareline compare out",
    "tareline compare march/results.json october/results.json",
  ],
};

/** What stands for a value: '<file>' in the words of the language. */
export const valueNamed = (name: string): Message => message(`cli.help.value.${name}`);

/** Help in a language: the commands, options and arguments carry ids of messages where others carry texts. */
export class HelpInWords extends Help {
  constructor(private readonly words: Words) {
    super();
  }

  override styleTitle(title: string): string {
    const id = titles[title];
    return id === undefined ? title : this.#say(`cli.help.title.${id}`);
  }

  override commandUsage(command: Command): string {
    return this.#withValues(super.commandUsage(command));
  }

  override subcommandTerm(command: Command): string {
    return this.#withValues(super.subcommandTerm(command));
  }

  override optionTerm(option: Option): string {
    return this.#withValues(option.flags);
  }

  override argumentTerm(argument: Argument): string {
    return this.#told(valueNamed(argument.name()));
  }

  override commandDescription(command: Command): string {
    return this.#described(command.description());
  }

  override subcommandDescription(command: Command): string {
    return this.#described(command.description());
  }

  override argumentDescription(argument: Argument): string {
    return this.#described(argument.description);
  }

  override optionDescription({ description, argChoices, defaultValue }: Option): string {
    const facts: string[] = [];
    if (argChoices !== undefined) facts.push(this.#say("cli.help.choices", { choices: argChoices.join(" | ") }));
    if (typeof defaultValue === "string") facts.push(this.#say("cli.help.default", { value: defaultValue }));
    return [this.#described(description), ...facts].join(" ");
  }

  override formatHelp(command: Command, helper: Help): string {
    const calls = examples[command.name()];
    const help = super.formatHelp(command, helper);
    if (calls === undefined) return help;
    return [this.#say("cli.help.title.examples"), ...calls.map((call) => `  ${call}`), "", help].join("\n");
  }

  /** A term with '<file>', '[options]' and the like in words. */
  #withValues(term: string): string {
    return term
      .replace(/<([a-z]+)(\.{3})?>/g, (_, name: string, more = "") => `<${this.#told(valueNamed(name))}${more}>`)
      .replace(/\[(options|command)\]/g, (_, part: string) => `[${this.#say(`cli.help.part.${part}`)}]`);
  }

  #say<Id extends string>(id: Id, ...values: ValuesOf<Id>): string {
    return this.#told(message(id, ...values));
  }

  /** What stands where others have a text: the id of a message, from `main.ts`. */
  #described(id: string): string {
    return this.#told({ id, values: {} });
  }

  #told(said: Message): string {
    return withoutIsolates(this.words.text(said));
  }
}
