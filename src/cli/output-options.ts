import type { Words } from "../render/words.js";
import { message } from "../results/message.js";
import { wordsOf } from "./language.js";
import { UsageError } from "./usage-error.js";

/** What an output can hold beside its numbers and tables: the page, its print, one to edit, and its figures one by one. */
export const formats = ["html", "pdf", "docx", "figures"] as const;
export type Format = (typeof formats)[number];

/** What the command line says of the output, as typed. */
export interface OutputOptions {
  readonly out: string;
  readonly browser?: string;
  /** False leaves out the PDF, whatever `formats` names. */
  readonly pdf: boolean;
  /** Formats, parted by commas; `html,pdf` where absent. */
  readonly formats?: string;
  /** Languages, parted by commas; the output's own where absent. */
  readonly language?: string;
}

/** The entries of a list parted by commas, each once. */
function listed(text: string): string[] {
  return [...new Set(text.split(",").map((entry) => entry.trim()))].filter((entry) => entry !== "");
}

/** The first of the languages asked for: what is said on the way is said in it. Undefined where none is asked for. */
export function firstLanguage(option: string | undefined): string | undefined {
  return option === undefined ? undefined : (listed(option)[0] ?? option);
}

/** The words of the languages asked for, or else of the one given. Throws UsageError for one that has none. */
export function languagesOf(option: string | undefined, otherwise: string): readonly Words[] {
  const chosen = listed(option ?? otherwise);
  return (chosen.length === 0 ? [option ?? otherwise] : chosen).map(wordsOf);
}

/** The formats asked for. Throws UsageError for one that is not known. */
export function formatsOf({ formats: option, pdf }: OutputOptions): ReadonlySet<Format> {
  const chosen = option === undefined ? ["html", "pdf"] : listed(option);
  const unknown = chosen.find((format) => !(formats as readonly string[]).includes(format));
  if (unknown !== undefined || chosen.length === 0) {
    throw new UsageError(message("cli.usage.formats", { value: unknown ?? "", known: [...formats] }));
  }
  return new Set(formats.filter((format) => chosen.includes(format) && (format !== "pdf" || pdf)));
}
