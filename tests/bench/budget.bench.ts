import { mkdtempSync, rmSync, statSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { generateSurvey } from "../../src/example/survey.js";
import { toCsv } from "../../src/example/to-csv.js";
import { toYaml } from "../../src/example/to-yaml.js";
import { flag, type WholeProcess, wholeProcess } from "./whole-process.js";

const children = 1_000;
/** What a report of so many children may take. */
const most = { html: 1, pdf: 3, language: 0.7, htmlMegabytes: 2, pdfMegabytes: 3 };
const repeats = 5;

/** The quickest of some runs: what else the machine does only ever adds to the time. */
function quickest(args: readonly string[]): WholeProcess {
  const runs = Array.from({ length: repeats }, () => wholeProcess(args));
  return runs.reduce((best, one) => (one.seconds < best.seconds ? one : best));
}

function line(what: string, seconds: number, limit: number, rest: string): string {
  return `${what.padEnd(34)}${seconds.toFixed(2).padStart(7)} s (at most ${limit})${flag(seconds > limit)}${rest}`;
}

/** Whole processes, from the call to the end: what a user waits for. */
export function budgetBench(): string {
  const folder = mkdtempSync(join(tmpdir(), "tareline-bench-"));
  try {
    const yaml = { title: "Invented survey", name: "invented", data: "invented.csv", remark: "Invented data." };
    writeFileSync(
      join(folder, "invented.csv"),
      toCsv(generateSurvey({ seed: 20_241_007, size: children, clusters: 40 })),
    );
    writeFileSync(join(folder, "invented.yaml"), toYaml(yaml));
    const report = ["report", join(folder, "invented.yaml"), "--quiet", "--out", join(folder, "out")];
    const html = quickest([...report, "--no-pdf"]);
    const three = quickest([...report, "--no-pdf", "--language", "en,fr,ar"]);
    const pdf = quickest(report);
    const megabytes = (name: string): number => statSync(join(folder, "out", "invented", name)).size / 1e6;
    const size = (name: string, limit: number): string =>
      `; ${megabytes(name).toFixed(2)} MB (at most ${limit})${flag(megabytes(name) > limit)}`;
    const cpu = ({ cpuSeconds }: WholeProcess): string => `, ${cpuSeconds.toFixed(2)} s of processors`;
    return [
      `a report of ${children} children, whole processes, quickest of ${repeats}`,
      line("HTML", html.seconds, most.html, cpu(html) + size("report.html", most.htmlMegabytes)),
      line("HTML and PDF", pdf.seconds, most.pdf, cpu(pdf) + size("report.pdf", most.pdfMegabytes)),
      line("each further language", (three.seconds - html.seconds) / 2, most.language, ""),
    ].join("\n");
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
