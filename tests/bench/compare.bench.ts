import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { comparableOf } from "../../src/compare/comparable.js";
import type { ExampleOptions } from "../../src/example/options.js";
import { generateSurvey } from "../../src/example/survey.js";
import { toCsv } from "../../src/example/to-csv.js";
import { toYaml } from "../../src/example/to-yaml.js";
import { readData } from "../../src/read/read-data.js";
import { buildReport } from "../../src/report.js";
import type { Results } from "../../src/results/schema.js";
import { parseSurveyFile } from "../../src/settings/survey-file.js";
import { flag, wholeProcess } from "./whole-process.js";

/** As many as one comparison takes. */
const surveys = 500;
/** What a comparison of so many may take. */
const mostSeconds = 20;
const mostMegabytes = 500;

/** Invented surveys that the copies are made of: of different seeds, with different faults or none. */
const samples: readonly ExampleOptions[] = [
  { seed: 20_241_011 },
  { seed: 20_241_012, faults: { heightRounding: { team: "T4", share: 0.7 }, duplicateRows: { count: 8 } } },
  { seed: 20_241_013, faults: { scaleDrift: { team: "T2", kilogramsPerDay: 0.05 } } },
];

async function resultsOf(options: ExampleOptions): Promise<string> {
  const bytes = new TextEncoder().encode(toCsv(generateSurvey(options)));
  const yaml = toYaml({ title: "Invented survey", name: "invented", data: "invented.csv", remark: "Invented data." });
  const table = await readData(bytes, "invented.csv");
  const surveyFile = parseSurveyFile(yaml, "invented.yaml");
  return JSON.stringify(buildReport({ table, surveyFile, settingsSha256: null, date: null, version: "0.0.0" }).results);
}

/** Where and in which year each survey was: one, two or three rounds of a place, in turn. */
function placesAndYears(): { readonly place: number; readonly year: number }[] {
  const all: { place: number; year: number }[] = [];
  for (let place = 0; all.length < surveys; place++) {
    for (let round = 0; round <= place % 3 && all.length < surveys; round++) all.push({ place, year: 2023 + round });
  }
  return all;
}

/** Raises or lowers the named figures of everything below `part`, shares by nothing that could bring them past 1. */
function scaled<T>(part: T, names: ReadonlySet<string>, factor: number): T {
  return JSON.parse(JSON.stringify(part), (key, value: unknown) =>
    typeof value === "number" && names.has(key) && Math.abs(value) < 0.8 ? value * factor : value,
  ) as T;
}
const estimateFigures = new Set(["value", "low", "high", "standardError"]);
const checkFigures = new Set(["value"]);

/**
 * A copy under another name, place, year and checksum: estimates and their scenarios moved up or down by up to a seventh,
 * figures of the checks by up to a third.
 */
function copyOf(text: string, index: number, place: number, year: number): Results {
  const copy = JSON.parse(text) as Results;
  const dated = (day: string | null): string | null => (day === null ? null : year + day.slice(4));
  const { firstDay, lastDay } = copy.survey;
  const about = {
    name: `district-${place}-${year}`,
    title: `District ${place}, ${year}`,
    population: `District ${place}`,
    firstDay: dated(firstDay),
    lastDay: dated(lastDay),
  };
  const factor = 1 + Math.sin(1.7 * index) / 7;
  const changed = {
    ...copy,
    survey: { ...copy.survey, ...about },
    input: { ...copy.input, sha256: String(index).padStart(64, "0") },
    estimates: scaled(copy.estimates, estimateFigures, factor),
    checks: scaled(copy.checks, checkFigures, 1 + Math.cos(2.3 * index) / 3),
    ...(copy.consequence === undefined ? {} : { consequence: scaled(copy.consequence, estimateFigures, factor) }),
  };
  return { ...changed, comparable: comparableOf(changed) };
}

/** Writes each survey's results into a folder of its own; the size of one, in megabytes. */
export async function writeCopies(folder: string): Promise<number> {
  const texts = await Promise.all(samples.map(resultsOf));
  let bytes = 0;
  for (const [index, { place, year }] of placesAndYears().entries()) {
    const own = join(folder, `s${String(index).padStart(3, "0")}`);
    mkdirSync(own);
    const copy = copyOf(texts[index % texts.length] ?? "", index, place, year);
    const written = `${JSON.stringify(copy, null, 1)}\n`;
    bytes += written.length;
    writeFileSync(join(own, "results.json"), written);
  }
  return bytes / surveys / 1e6;
}

/** Time and peak memory of comparing as many surveys as may be compared, without the PDF. */
export async function compareBench(): Promise<string> {
  const folder = mkdtempSync(join(tmpdir(), "tareline-bench-"));
  try {
    const size = await writeCopies(folder);
    const { seconds, megabytes } = wholeProcess([
      "compare",
      folder,
      "--no-pdf",
      "--quiet",
      "--out",
      join(folder, "out"),
    ]);
    return [
      `compare, ${surveys} results.json of ${size.toFixed(1)} MB each`,
      `${seconds.toFixed(1)} s (at most ${mostSeconds})${flag(seconds > mostSeconds)}`,
      `${megabytes.toFixed(0)} MB at most in memory (at most ${mostMegabytes})${flag(megabytes > mostMegabytes)}`,
    ].join("\n");
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
