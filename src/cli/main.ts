import { Command, CommanderError, type Help, Option } from "commander";
import type { Words } from "../render/words.js";
import { type Effects, realEffects, speakingPlainly } from "./effects.js";
import { endOnBrokenOutput, endOnSignals } from "./endings.js";
import { programVersion } from "./version.js";

/** Help is to be shown, or something told of a call, and the words for it are not there yet. */
class WordsWanted extends Error {}

/** A command whose help is in the words of a language; without them it can be run, not told of. */
class WordedCommand extends Command {
  constructor(
    name: string,
    private readonly wordedHelp: (() => Help) | null,
  ) {
    super(name);
  }

  override createCommand(name = ""): WordedCommand {
    return new WordedCommand(name, this.wordedHelp);
  }

  override createHelp(): Help {
    if (this.wordedHelp === null) throw new WordsWanted();
    return this.wordedHelp();
  }
}

const choice = (flags: string, description: string, choices: readonly string[]): Option =>
  new Option(flags, description).choices(choices);

/** Options of the commands that write an output. */
const shared = {
  out: new Option("--out <folder>", "cli.help.option.out").default("out"),
  language: new Option("--language <codes>", "cli.help.option.language"),
  formats: new Option("--formats <list>", "cli.help.option.formats"),
  browser: new Option("--browser <path>", "cli.help.option.browser"),
  noPdf: new Option("--no-pdf", "cli.help.option.no-pdf"),
  quiet: new Option("--quiet", "cli.help.option.quiet"),
};

function addReport(tareline: Command, effects: Effects): void {
  tareline
    .command("report")
    .argument("<file>", "cli.help.argument.survey")
    .description("cli.help.report")
    .addOption(shared.out)
    .option("--data <file>", "cli.help.option.data")
    .addOption(shared.language)
    .addOption(shared.formats)
    .addOption(shared.browser)
    .addOption(shared.noPdf)
    .option("--no-rows", "cli.help.option.no-rows")
    .addOption(choice("--codes <whose>", "cli.help.option.codes", ["clusters", "teams", "both"]))
    .option("--date <day>", "cli.help.option.date")
    .addOption(choice("--json <where>", "cli.help.option.json", ["-"]))
    .addOption(choice("--fail-on <reading>", "cli.help.option.fail-on", ["explain", "doubt", "unknown"]))
    .addOption(shared.quiet)
    .action(async (file, options) => {
      const { reportCommand } = await import("./report-command.js");
      await reportCommand(file, options, effects);
    });
}

function addDescribe(tareline: Command, effects: Effects): void {
  tareline
    .command("describe")
    .argument("<file>", "cli.help.argument.data")
    .description("cli.help.describe")
    .option("--out <file>", "cli.help.option.draft")
    .option("--sheet <name>", "cli.help.option.sheet")
    .option("--language <code>", "cli.help.option.draft-language")
    .action(async (file, options) => {
      const { describeCommand } = await import("./describe-command.js");
      await describeCommand(file, options, effects);
    });
}

function addCompare(tareline: Command, effects: Effects): void {
  tareline
    .command("compare")
    .argument("<files...>", "cli.help.argument.surveys")
    .description("cli.help.compare")
    .addOption(shared.out)
    .addOption(shared.language)
    .addOption(shared.formats)
    .addOption(shared.browser)
    .addOption(shared.noPdf)
    .option("--date <day>", "cli.help.option.compare-date")
    .addOption(choice("--json <where>", "cli.help.option.compare-json", ["-"]))
    .addOption(shared.quiet)
    .action(async (files, options) => {
      const { compareCommand } = await import("./compare-command.js");
      await compareCommand(files, options, effects);
    });
}

function addRender(tareline: Command, effects: Effects): void {
  tareline
    .command("render")
    .argument("<file>", "cli.help.argument.results")
    .description("cli.help.render")
    .option("--decision <limits>", "cli.help.option.decision")
    .addOption(shared.out)
    .addOption(shared.language)
    .addOption(shared.formats)
    .addOption(shared.browser)
    .addOption(shared.noPdf)
    .action(async (file, options) => {
      const { renderCommand } = await import("./render-command.js");
      await renderCommand(file, options, effects);
    });
}

function addExample(tareline: Command, effects: Effects): void {
  tareline
    .command("example")
    .description("cli.help.example")
    .addOption(new Option("--out <folder>", "cli.help.option.example-out").default("sample-input"))
    .action(async (options) => {
      const { exampleCommand } = await import("./example-command.js");
      await exampleCommand(options, effects);
    });
}

function addExplain(tareline: Command, effects: Effects): void {
  tareline
    .command("explain")
    .argument("[check]", "cli.help.argument.check")
    .description("cli.help.explain")
    .option("--language <code>", "cli.help.option.explain-language")
    .action(async (check, options) => {
      const { explainCommand } = await import("./explain-command.js");
      await explainCommand(check, options, effects);
    });
}

/**
 * The command line's own description, with ids of messages in place of texts. Commands load their rooms only when called, and
 * words only when help is shown.
 */
function program(effects: Effects, help: (() => Help) | null): Command {
  const tareline = new WordedCommand("tareline", help)
    .description("cli.help.program")
    .version(programVersion(), "-V, --version", "cli.help.version")
    .helpOption("-h, --help", "cli.help.help")
    .helpCommand("help [command]", "cli.help.help-command")
    .showSuggestionAfterError()
    .configureOutput({
      writeOut: (text) => effects.out(text),
      writeErr: (text) => effects.say(text.trimEnd()),
      // Said in words once the call has been read.
      outputError: () => {},
    })
    .exitOverride();
  for (const add of [addReport, addDescribe, addCompare, addRender, addExplain, addExample]) add(tareline, effects);
  return tareline;
}

/** Carries out a call, or says in words why it cannot be read. */
async function carryOut(args: readonly string[], effects: Effects): Promise<void> {
  const words = async (): Promise<Words> => {
    const [{ helpLanguage }, { wordsOf }] = await Promise.all([import("./help-language.js"), import("./language.js")]);
    return wordsOf(helpLanguage(args, effects.environment));
  };
  const parse = (help: (() => Help) | null): Promise<Command> =>
    program(effects, help).parseAsync([...args], { from: "user" });
  try {
    await parse(null).catch(async (error: unknown) => {
      if (!(error instanceof WordsWanted)) throw error;
      const [{ HelpInWords }, spoken] = await Promise.all([import("./help.js"), words()]);
      return parse(() => new HelpInWords(spoken));
    });
  } catch (error) {
    if (!(error instanceof CommanderError)) throw error;
    effects.exitWith(error.exitCode === 0 ? 0 : 2);
    if (error.exitCode === 0) return;
    const { usageFault } = await import("./usage-fault.js");
    const faults = usageFault(error, args);
    const spoken = faults.length === 0 ? null : await words();
    for (const fault of faults) effects.say(spoken?.text(fault) ?? "");
  }
}

/** Runs the command line with these arguments; sets the exit code and never throws. */
export async function run(args: readonly string[], effects: Effects): Promise<void> {
  const plain = speakingPlainly(effects);
  try {
    await carryOut(args, plain);
  } catch (error) {
    const { failureOf } = await import("./errors.js");
    const failure = failureOf(error);
    for (const line of failure.lines) plain.say(line);
    plain.exitWith(failure.exitCode);
  }
}

/** Runs the command line for a person at a terminal. */
export function startProgram(args: readonly string[]): Promise<void> {
  endOnSignals();
  endOnBrokenOutput();
  return run(args, realEffects);
}
