import { Command, CommanderError, Option } from "commander";
import { type Effects, realEffects } from "./effects.js";
import { programVersion } from "./version.js";

/** The command line's own description. Commands load their rooms only when called, so that help is quick. */
export function program(effects: Effects): Command {
  const tareline = new Command("tareline")
    .description("Says whether the measurements of a child survey can carry the decision taken on them.")
    .version(programVersion())
    .showSuggestionAfterError()
    .configureOutput({
      writeOut: (text) => effects.out(text),
      writeErr: (text) => effects.say(text.trimEnd()),
    })
    .exitOverride();

  const out = new Option(
    "--out <folder>",
    "folder for the output; a folder named after the survey is made in it",
  ).default("out");
  const language = new Option(
    "--language <codes>",
    "language of the output, or several as en,fr,ar, each in a folder of its own; the settings' own when not given",
  );
  const formats = new Option(
    "--formats <list>",
    "any of html, pdf and docx (to edit), as html,docx; html,pdf when not given",
  );
  const browser = new Option("--browser <path>", "browser to print the PDF with");

  tareline
    .command("report")
    .argument(
      "<file>",
      "the data (CSV, xlsx, Parquet, zip or folder), or the settings file (survey.yaml) that names them",
    )
    .description("make the report: HTML, PDF, a document to edit, results.json and tables")
    .addOption(out)
    .option("--data <file>", "data file in place of the one that the settings name; it may lie anywhere")
    .addOption(language)
    .addOption(formats)
    .addOption(browser)
    .option("--no-pdf", "leave out the PDF")
    .option("--no-rows", "leave out the internal files: rows-to-check.csv and codes-internal.csv")
    .addOption(
      new Option("--codes <whose>", "print codes in place of the labels of clusters, teams or both").choices([
        "clusters",
        "teams",
        "both",
      ]),
    )
    .option("--date <day>", "day that the report carries, as 2026-03-31; the last interview day when not given")
    .addOption(new Option("--json <where>", "'-' writes results.json to standard output, and no files").choices(["-"]))
    .addOption(
      new Option("--fail-on <reading>", "end with exit code 1 when a check reads like this or worse").choices([
        "explain",
        "doubt",
        "unknown",
      ]),
    )
    .option("--quiet", "say nothing when all is well")
    .addHelpText(
      "before",
      "Examples:\n  tareline report sample-input/quillmar.yaml\n  tareline report my-survey.csv --out reports\n",
    )
    .action(async (file, options) => {
      const { reportCommand } = await import("./report-command.js");
      await reportCommand(file, options, effects);
    });

  tareline
    .command("describe")
    .argument("<file>", "the data (CSV, xlsx, Parquet, zip or folder)")
    .description("draft the settings file: which column is what, and what has to be decided")
    .option("--out <file>", "write the draft to this new file instead of standard output")
    .option("--sheet <name>", "of a workbook, archive or folder: the sheet or table with one row a child")
    .option("--language <code>", "language of the questions and of the draft’s remarks; English when not given")
    .action(async (file, options) => {
      const { describeCommand } = await import("./describe-command.js");
      await describeCommand(file, options, effects);
    });

  tareline
    .command("compare")
    .argument("<files...>", "results.json files, a folder of them, surveys' settings (survey.yaml), or a compare.yaml")
    .description("set surveys beside each other: rounds, districts, and what the measuring explains")
    .addOption(out)
    .addOption(language)
    .addOption(formats)
    .addOption(browser)
    .option("--no-pdf", "leave out the PDF")
    .option("--date <day>", "day that the comparison carries; the last interview day of all when not given")
    .addOption(
      new Option("--json <where>", "'-' writes comparison.json to standard output, and no files").choices(["-"]),
    )
    .option("--quiet", "say nothing when all is well")
    .addHelpText(
      "before",
      "Examples:\n  tareline compare sample-input/two-rounds\n  tareline compare out\n  tareline compare march/results.json october/results.json\n",
    )
    .action(async (files, options) => {
      const { compareCommand } = await import("./compare-command.js");
      await compareCommand(files, options, effects);
    });

  tareline
    .command("render")
    .argument("<file>", "results.json of an earlier report, or comparison.json of an earlier comparison")
    .description("draw a report or comparison again, for example in another language, without the data")
    .addOption(out)
    .addOption(language)
    .addOption(formats)
    .addOption(browser)
    .option("--no-pdf", "leave out the PDF")
    .action(async (file, options) => {
      const { renderCommand } = await import("./render-command.js");
      await renderCommand(file, options, effects);
    });

  tareline
    .command("example")
    .description("write the invented example surveys")
    .addOption(new Option("--out <folder>", "folder to write them to").default("sample-input"))
    .action(async (options) => {
      const { exampleCommand } = await import("./example-command.js");
      await exampleCommand(options, effects);
    });

  return tareline;
}

/** Runs the command line with these arguments; sets the exit code and never throws. */
export async function run(args: readonly string[], effects: Effects): Promise<void> {
  try {
    await program(effects).parseAsync([...args], { from: "user" });
  } catch (error) {
    if (error instanceof CommanderError) {
      effects.exitWith(error.exitCode === 0 ? 0 : 2);
      return;
    }
    const { failureOf } = await import("./errors.js");
    const failure = failureOf(error);
    for (const line of failure.lines) effects.say(line);
    effects.exitWith(failure.exitCode);
  }
}

/** Runs the command line for a person at a terminal. */
export const startProgram = (args: readonly string[]): Promise<void> => run(args, realEffects);
