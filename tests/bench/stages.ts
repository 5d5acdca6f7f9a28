import { Readable } from "node:stream";
import { finished } from "node:stream/promises";
import { parse } from "csv-parse";
import { Bench } from "tinybench";
import { checks } from "../../src/checks/index.js";
import { runCheck } from "../../src/checks/run.js";
import { recognisesName } from "../../src/columns/column-names.js";
import { computeConsequence } from "../../src/consequence/run.js";
import { derive } from "../../src/derive/derive.js";
import { describe } from "../../src/describe/describe.js";
import { estimates } from "../../src/estimates/index.js";
import { runEstimate } from "../../src/estimates/run.js";
import { generateSurvey } from "../../src/example/survey.js";
import { toCsv } from "../../src/example/to-csv.js";
import { toYaml } from "../../src/example/to-yaml.js";
import { readData } from "../../src/read/read-data.js";
import { drawChart } from "../../src/render/charts/draw.js";
import { renderHtml } from "../../src/render/html.js";
import { makePdfs } from "../../src/render/pdf/make-pdf.js";
import { loadWords } from "../../src/render/words.js";
import { buildReport } from "../../src/report.js";
import type { Chart, Results } from "../../src/results/schema.js";
import { parseSurveyFile } from "../../src/settings/survey-file.js";

export interface StageTime {
  readonly stage: string;
  /** Median, milliseconds. */
  readonly median: number;
}

interface Size {
  readonly size: number;
  readonly clusters: number;
  readonly withPdf: boolean;
}

/** The same bytes through csv-parse as it comes, every record thrown away: nothing that reads CSV in Node is quicker here. */
async function floor(bytes: Uint8Array): Promise<void> {
  const parser = Readable.from([Buffer.from(bytes)]).pipe(parse({ columns: false }));
  parser.resume();
  await finished(parser);
}

function chartsOf(results: Results): readonly Chart[] {
  return [...results.checks.flatMap((check) => check.charts), ...(results.consequence?.charts ?? [])];
}

async function print(html: string): Promise<void> {
  const outcome = await makePdfs({ pages: [html], madeOn: "2024-10-19" }, { environment: process.env });
  if (outcome.kind !== "printed") throw new Error(`No PDF: ${loadWords("en").text(outcome.reason)}`);
}

/**
 * Times of every stage on one invented survey, each fed with what the stage before it made. Once for stages that take
 * longer than a second, else as often as half a second allows.
 */
export async function measureStages({ size, clusters, withPdf }: Size): Promise<StageTime[]> {
  const bytes = new TextEncoder().encode(toCsv(generateSurvey({ seed: 20_241_007, size, clusters })));
  const yaml = toYaml({ title: "Invented survey", name: "invented", data: "invented.csv", remark: "Invented data." });
  const surveyFile = parseSurveyFile(yaml, "invented.yaml");
  const read = () => readData(bytes, "invented.csv", { recognises: recognisesName });
  const table = await read();
  const survey = describe(table, surveyFile);
  const { children } = derive(survey);
  const { settings } = survey;
  const check = () => checks.map((one) => runCheck(one, children, settings).result);
  const found = check();
  const input = { table, surveyFile, settingsSha256: null, date: null, version: "0.0.0" };
  const { results } = buildReport(input);
  const words = loadWords("en");
  const html = await renderHtml(results, words);
  const stages: [string, () => unknown][] = [
    ["floor", () => floor(bytes)],
    ["read", read],
    ["describe", () => describe(table, surveyFile)],
    ["z-scores", () => derive(survey)],
    ["checks", check],
    ["estimates", () => estimates.map((one) => runEstimate(one, children, settings))],
    ["consequence", () => computeConsequence(children, settings, estimates, found)],
    [
      "charts",
      async () => {
        for (const chart of chartsOf(results)) await drawChart(chart, words);
      },
    ],
    ["html", () => renderHtml(results, words)],
  ];
  if (withPdf) stages.push(["pdf", () => print(html)]);
  const times: StageTime[] = [];
  for (const [stage, run] of stages) times.push({ stage, median: await median(run) });
  return times;
}

async function median(run: () => unknown): Promise<number> {
  const start = performance.now();
  await run();
  const once = performance.now() - start;
  if (once > 1000) return once;
  const bench = new Bench({ time: 500, iterations: 3, warmupIterations: 1, warmupTime: 0, throws: true });
  bench.add("stage", async () => {
    await run();
  });
  await bench.run();
  const result = bench.tasks[0]?.result;
  if (result === undefined || !("latency" in result)) throw new Error("the stage could not be timed");
  return result.latency.p50;
}
