import { isAscii } from "node:buffer";
import { createHash } from "node:crypto";
import type { CompareSettings } from "../compare/compare-settings.js";
import { type ReadSurvey, type Refused, readSurvey, type SurveyFacts } from "../compare/read-summary.js";
import { InputError } from "../read/problem.js";
import { message } from "../results/message.js";
import type { Message } from "../results/schema.js";
import { parsedJson } from "./json-text.js";
import { mostTextBytes, readNamedFile } from "./read-file.js";

/** What is kept of a survey, or why its file cannot be used. */
export type ReadOrRefused = ReadSurvey | (Refused & { readonly file: string });

/** One survey of a comparison, as its settings describe it. */
export type ComparedSurvey = CompareSettings["surveys"][number];

/** The bytes of a results.json, or why there are none. */
export type Bytes = Buffer | { readonly refused: Message };

/** The text of a file; plain ASCII, which most results are, is the quicker to turn. */
export function textOf(bytes: Buffer): string {
  return bytes.toString(isAscii(bytes) ? "latin1" : "utf8");
}

function sha256Of(bytes: Uint8Array): string {
  return createHash("sha256").update(bytes).digest("hex");
}

function factsOf(survey: ComparedSurvey, sha256: string): SurveyFacts {
  const { file, place, round, group, population, clustersRevisited } = survey;
  return { file, sha256, place, round, group, population, clustersRevisited };
}

async function bytesOf(path: string): Promise<Bytes> {
  try {
    return await readNamedFile(path, mostTextBytes);
  } catch (error) {
    // No file at all, a pipe, or one too large.
    if (error instanceof InputError) return { refused: message("compare.refused.format") };
    const { code } = error as NodeJS.ErrnoException;
    if (code === undefined) throw error;
    return { refused: message("compare.refused.cannot-read", { code }) };
  }
}

/** What a comparison needs of the results in these bytes. */
export function surveyOf(bytes: Bytes, survey: ComparedSurvey): ReadOrRefused {
  const { file } = survey;
  if ("refused" in bytes) return { ...bytes, file };
  const json = parsedJson(textOf(bytes));
  if (json === null) return { refused: message("compare.refused.json"), file };
  const outcome = readSurvey(json.raw, factsOf(survey, sha256Of(bytes)));
  return "refused" in outcome ? { ...outcome, file } : outcome;
}

/** Reads a results.json, keeps what a comparison needs of it and lets the rest go. */
export async function readResults(path: string, survey: ComparedSurvey): Promise<ReadOrRefused> {
  return surveyOf(await bytesOf(path), survey);
}
