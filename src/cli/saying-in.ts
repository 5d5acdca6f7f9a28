import { extname } from "node:path";
import { loadWords, type Words } from "../render/words.js";
import type { InputError } from "../settings/problems.js";
import { knownLanguages, wordsOf } from "./language.js";
import { firstLanguage } from "./output-options.js";
import { textOrNothing } from "./read-file.js";

/** Something thrown, with the language that it is to be told in. */
export class Told extends Error {
  readonly words: Words;

  constructor(cause: unknown, words: Words) {
    super("told", { cause });
    this.name = "Told";
    this.words = words;
  }
}

/** Problems of the input, and the file that lists them all; null where it could not be written. */
export class ListedProblems extends Error {
  readonly input: InputError;
  readonly list: string | null;

  constructor(input: InputError, list: string | null) {
    super(input.message);
    this.name = "ListedProblems";
    this.input = input;
    this.list = list;
  }
}

/** Does the work; what it throws will be told in these words. */
export async function sayingIn<Result>(words: Words, work: () => Promise<Result>): Promise<Result> {
  try {
    return await work();
  } catch (error) {
    throw error instanceof Told ? error : new Told(error, words);
  }
}

/** A settings file's own language: read from its text, since a file with problems has a language too. */
async function statedLanguage(path: string): Promise<string | null> {
  if (![".yaml", ".yml"].includes(extname(path).toLowerCase())) return null;
  const text = await textOrNothing(path);
  return /^language:[ \t]*["']?([a-z]{2,3}(?:-[A-Za-z]+)?)\b/m.exec(text)?.[1] ?? null;
}

/**
 * The words that a command talks in: those of the first `--language`, which must be known; else those of the settings file, as far
 * as they are; else English.
 */
export async function talkIn(option: string | undefined, path: string): Promise<Words> {
  const asked = firstLanguage(option);
  if (asked !== undefined) return wordsOf(asked);
  const stated = await statedLanguage(path);
  return loadWords(stated !== null && knownLanguages().includes(stated) ? stated : "en");
}
