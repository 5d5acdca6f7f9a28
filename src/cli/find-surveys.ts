import { readdir, stat } from "node:fs/promises";
import { basename, dirname, extname, isAbsolute, join, relative, resolve, sep } from "node:path";
import {
  type CompareDefaults,
  type CompareFileValues,
  type CompareSettings,
  compareFileJsonSchema,
  compareFileSchema,
  compareSettings,
  plainSettings,
} from "../compare/compare-settings.js";
import { message } from "../results/message.js";
import { slug } from "../settings/make-settings.js";
import { parseSettings } from "../settings/settings-file.js";
import { readNamedText, textOrNothing } from "./read-file.js";
import { UsageError } from "./usage-error.js";

/** What to compare: the settings, and beside each of their surveys the path to read. */
export interface FoundSurveys {
  readonly settings: CompareSettings;
  readonly paths: readonly string[];
  /** The folder that files named by settings must lie in or below; null where the command line names them. */
  readonly within: string | null;
}

/** Title and language where the settings say nothing. */
export interface Unsaid {
  readonly language: string;
  title(surveys: number): string;
}

const settingsNames = ["compare.yaml", "compare.yml"];
const resultsName = "results.json";
/** Folders below the named one that are looked into. */
const levelsSearched = 2;

/** A comparison's own settings are known by their list of surveys, which no survey's settings have. */
async function isComparison(path: string): Promise<boolean> {
  if (![".yaml", ".yml"].includes(extname(path).toLowerCase())) return false;
  if (settingsNames.includes(basename(path).toLowerCase())) return true;
  const text = await textOrNothing(path);
  return /^surveys\s*:/m.test(text);
}

async function isFolder(path: string): Promise<boolean> {
  const state = await stat(path).catch(() => null);
  return state?.isDirectory() === true;
}

/** Every results.json in a folder and the folders below it, in the order of their names; hidden folders are left alone. */
async function resultsBelow(folder: string, levels = levelsSearched): Promise<string[]> {
  const entries = await readdir(folder, { withFileTypes: true });
  const here = entries.some((entry) => entry.isFile() && entry.name === resultsName);
  const below = entries
    .filter((entry) => levels > 0 && entry.isDirectory() && !entry.name.startsWith("."))
    .map((entry) => entry.name)
    .sort((a, b) => (a < b ? -1 : 1));
  const found = await Promise.all(below.map((name) => resultsBelow(join(folder, name), levels - 1)));
  return [...(here ? [join(folder, resultsName)] : []), ...found.flat()];
}

/** Paths without the folders that all of them share, so that no name tells where on the machine they lie. */
function withoutSharedFolders(paths: readonly string[]): string[] {
  const absolute = paths.map((path) => resolve(path));
  let shared = dirname(absolute[0] ?? sep);
  while (!absolute.every((path) => path.startsWith(shared.endsWith(sep) ? shared : shared + sep))) {
    const above = dirname(shared);
    if (above === shared) break;
    shared = above;
  }
  return absolute.map((path) => relative(shared, path).replaceAll("\\", "/"));
}

const emptyFolder = (folder: string): UsageError => new UsageError(message("cli.compare.nothing-found", { folder }));

/** The settings of a compare.yaml, its files from its own folder. */
async function fromSettings(path: string, unsaid: Unsaid): Promise<FoundSurveys> {
  const file = basename(path);
  const { values } = parseSettings<CompareFileValues>(await readNamedText(path), file, {
    schema: compareFileSchema,
    jsonSchema: compareFileJsonSchema,
    cross: () => [],
  });
  const folder = dirname(resolve(path));
  const paths = values.surveys.map((survey) => resolve(folder, survey.file));
  const plain = withoutSharedFolders(paths);
  const defaults: CompareDefaults = {
    name: slug(values.name ?? "") || nameFrom(folder),
    title: unsaid.title(paths.length),
    language: unsaid.language,
  };
  const settings = compareSettings(values, defaults);
  // A path from the root would tell where on the machine the file lies.
  const surveys = settings.surveys.map((survey, i) =>
    isAbsolute(survey.file) ? { ...survey, file: plain[i] ?? basename(survey.file) } : survey,
  );
  return { settings: { ...settings, surveys }, paths, within: folder };
}

function nameFrom(folder: string): string {
  return ["comparison", slug(basename(resolve(folder)))].filter((part) => part !== "").join("-");
}

function fromPaths(paths: readonly string[], name: string, unsaid: Unsaid): FoundSurveys {
  const defaults = { name, title: unsaid.title(paths.length), language: unsaid.language };
  return { settings: plainSettings(withoutSharedFolders(paths), defaults), paths, within: null };
}

/** A folder's compare.yaml; null where it has none. */
async function settingsIn(folder: string): Promise<string | null> {
  const names = await readdir(folder);
  const name = settingsNames.find((candidate) => names.includes(candidate));
  return name === undefined ? null : join(folder, name);
}

/**
 * What the command line asks to compare: a compare.yaml, a folder (its compare.yaml, else every results.json in it, two
 * levels down), or files one by one. Throws UsageError or InputError.
 */
export async function findSurveys(named: readonly string[], unsaid: Unsaid): Promise<FoundSurveys> {
  const [only] = named;
  if (only !== undefined && named.length === 1 && (await isFolder(only))) {
    const settings = await settingsIn(only);
    if (settings !== null) return fromSettings(settings, unsaid);
    const paths = await resultsBelow(only);
    if (paths.length === 0) throw emptyFolder(only);
    return fromPaths(paths, nameFrom(only), unsaid);
  }
  if (only !== undefined && named.length === 1 && (await isComparison(only))) return fromSettings(only, unsaid);
  const paths: string[] = [];
  for (const path of named) {
    if (await isFolder(path)) {
      const found = await resultsBelow(path);
      if (found.length === 0) throw emptyFolder(path);
      paths.push(...found);
    } else if (await isComparison(path)) throw new UsageError(message("cli.compare.settings-alone", { path }));
    else paths.push(path);
  }
  return fromPaths(paths, "comparison", unsaid);
}
