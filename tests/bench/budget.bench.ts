import { mkdtempSync, rmSync, statSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { generateSurvey } from "../../src/example/survey.js";
import { toCsv } from "../../src/example/to-csv.js";
import { toYaml } from "../../src/example/to-yaml.js";
import { flag, type WholeProcess, wholeProcess } from "./whole-process.js";

const children = 1_000;
/** What a report of so many children may take. */
const most = { help: 0.15, html: 1.8, pdf: 3.5, language: 0.8, htmlMegabytes: 2, pdfMegabytes: 3 };
const repeats = 5;

/** The run in the middle of some, by the time it took. */
function median(args: readonly string[]): WholeProcess {
  const runs = Array.from({ length: repeats }, () => wholeProcess(args)).sort((a, b) => a.seconds - b.seconds);
  return runs[Math.floor(repeats / 2)] as WholeProcess;
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
    const help = median(["--help"]);
    const html = median([...report, "--no-pdf"]);
    const three = median([...report, "--no-pdf", "--language", "en,fr,ar"]);
    const pdf = median(report);
    const megabytes = (name: string): number => statSync(join(folder, "out", "invented", name)).size / 1e6;
    const size = (name: string, limit: number): string =>
      `; ${megabytes(name).toFixed(2)} MB (at most ${limit})${flag(megabytes(name) > limit)}`;
    const cpu = ({ cpuSeconds }: WholeProcess): string => `, ${cpuSeconds.toFixed(2)} s of processors`;
    return [
      `a report of ${children} children, whole processes, median of ${repeats}`,
      line("--help", help.seconds, most.help, ""),
      line("HTML", html.seconds, most.html, cpu(html) + size("report.html", most.htmlMegabytes)),
      line("HTML and PDF", pdf.seconds, most.pdf, cpu(pdf) + size("report.pdf", most.pdfMegabytes)),
      line("each further language", (three.seconds - html.seconds) / 2, most.language, ""),
    ].join("\n");
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
