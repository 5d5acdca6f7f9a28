import { readdir, readFile } from "node:fs/promises";
import { dirname, join } from "node:path";
import type { z } from "zod";
import { isMapping, migrated } from "../compare/migrate.js";
import { startDrawing } from "../render/charts/draw.js";
import type { OutputFile } from "../render/write.js";
import { type Comparison, comparisonSchema } from "../results/comparison.js";
import { message } from "../results/message.js";
import { placeInJson } from "../results/place-in-json.js";
import { type Results, resultsSchema } from "../results/schema.js";
import { slug } from "../settings/make-settings.js";
import { limitsAsked, withLimitsAsked } from "./asked-limits.js";
import { comparisonOutput } from "./compare-command.js";
import type { Effects } from "./effects.js";
import { parsedJson } from "./json-text.js";
import { knownLanguages } from "./language.js";
import { formatsOf, languagesOf, type OutputOptions } from "./output-options.js";
import { readNamedText } from "./read-file.js";
import { reportOutput } from "./report-command.js";
import { sayingIn, talkIn } from "./saying-in.js";
import { UsageError } from "./usage-error.js";
import { pathsToSay, writeOutput } from "./write-output.js";

function parsed(text: string, path: string): unknown {
  const json = parsedJson(text);
  if (json === null) throw new UsageError(message("cli.usage.not-json", { path }));
  return json.raw;
}

/** Throws UsageError unless the schema fits and the name is a plain folder name: it says where the output goes. */
function assertDrawable<Drawable>(
  raw: unknown,
  schema: z.ZodType<Drawable>,
  about: { readonly path: string; readonly at: string; readonly name: (drawable: Drawable) => string },
): void {
  const { path, at } = about;
  const checked = schema.safeParse(raw);
  if (!checked.success) {
    const where = placeInJson(checked.error.issues[0]?.path ?? [], ".");
    throw new UsageError(message("cli.usage.not-results", { path, where }));
  }
  const name = about.name(checked.data);
  if (name === "" || slug(name) !== name) throw new UsageError(message("cli.usage.not-results", { path, where: at }));
}

/**
 * What a file's text holds, in the order in which it stands there, so that it is written again byte for byte; results of
 * an older version are brought up to date.
 */
function drawableIn(text: string, path: string): { readonly results: Results } | { readonly comparison: Comparison } {
  const raw = migrated(parsed(text, path));
  if (isMapping(raw) && raw.format === "tareline-comparison") {
    assertDrawable(raw, comparisonSchema, { path, at: "comparison.name", name: (one) => one.comparison.name });
    return { comparison: raw as unknown as Comparison };
  }
  assertDrawable(raw, resultsSchema, { path, at: "survey.name", name: (one) => one.survey.name });
  return { results: raw as Results };
}

/**
 * The internal files beside the results and in the folders of their languages: they cannot be made again without the data,
 * so they are kept where they are.
 */
async function internalBeside(path: string): Promise<OutputFile[]> {
  const folder = dirname(path);
  const inside = await readdir(folder).catch((): string[] => []);
  const places = [
    "",
    ...knownLanguages()
      .filter((language) => inside.includes(language))
      .map((one) => `${one}/`),
  ];
  const names = places.flatMap((place) => ["rows-to-check.csv", "codes-internal.csv"].map((name) => place + name));
  const files = names.map(async (name): Promise<OutputFile[]> => {
    const content = await readFile(join(folder, name)).catch(() => null);
    return content === null ? [] : [{ name, content }];
  });
  return (await Promise.all(files)).flat();
}

/** Options of `render`: those of every output, and limits to ask about. */
interface RenderOptions extends OutputOptions {
  /** Such as 'wasting=8%,stunting=25%'. */
  readonly decision?: string;
}

/** The drawable held against the limits asked about; as it is where none are. */
function heldAgainst(drawable: ReturnType<typeof drawableIn>, decision: string | undefined): typeof drawable {
  if (decision === undefined) return drawable;
  const asked = limitsAsked(decision);
  if (!("results" in drawable)) throw new UsageError(message("cli.usage.decision-comparison"));
  return { results: withLimitsAsked(drawable.results, asked) };
}

/** `tareline render`: draws a report or a comparison again from its JSON, without the data. */
export async function renderCommand(path: string, options: RenderOptions, effects: Effects): Promise<void> {
  const talk = await talkIn(options.language, path);
  await sayingIn(talk, async () => {
    const formats = formatsOf(options);
    const drawable = heldAgainst(drawableIn(await readNamedText(path), path), options.decision);
    startDrawing();
    const isReport = "results" in drawable;
    const output = isReport ? reportOutput(drawable.results, { rows: null }) : comparisonOutput(drawable.comparison);
    const own = isReport ? drawable.results.survey.language : drawable.comparison.comparison.language;
    const languages = languagesOf(options.language, own);
    const kept = isReport ? await internalBeside(path) : [];
    const { out, browser } = options;
    await sayingIn(languages[0] ?? talk, async () => {
      const paths = await writeOutput(output, { out, browser, formats, languages, kept }, effects, () => {});
      for (const line of pathsToSay(paths)) effects.say(line);
    });
  });
}
