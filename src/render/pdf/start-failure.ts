import { spawn } from "node:child_process";
import { message } from "../../results/message.js";
import type { Launch } from "./launch.js";
import { PdfProblem } from "./pdf-problem.js";

const patienceMilliseconds = 10_000;

/**
 * Says why a browser did not start. Puppeteer talks to it through a pipe and does not pass on what it printed, so the
 * browser is started once more, alone, and its own last words are read.
 */
export async function startFailure(launch: Launch, cause: unknown): Promise<PdfProblem> {
  const words = await lastWords(launch);
  const path = launch.executablePath;
  if (/no usable sandbox|setuid sandbox|move to new namespace|sandbox_linux/i.test(words)) {
    return new PdfProblem("sandbox-refused", message("pdf.problem.sandbox-refused", { path }), { cause });
  }
  const detail = tidied(words) || tidied(cause instanceof Error ? cause.message : String(cause));
  return new PdfProblem("cannot-start", message("pdf.problem.cannot-start", { path, detail }), { cause });
}

function lastWords(launch: Launch): Promise<string> {
  return new Promise((resolve) => {
    let words = "";
    const args = [...launch.args, "--headless", `--user-data-dir=${launch.userDataDir}`, "--dump-dom", "about:blank"];
    const alone = spawn(launch.executablePath, args, {
      env: launch.env as NodeJS.ProcessEnv,
      stdio: ["ignore", "ignore", "pipe"],
      timeout: patienceMilliseconds,
      killSignal: "SIGKILL",
    });
    alone.stderr.on("data", (chunk: Buffer) => {
      words = (words + chunk.toString()).slice(-20_000);
    });
    alone.on("error", (error) => resolve(error.message));
    alone.on("close", () => resolve(words));
  });
}

/** The line that says most: an error rather than a log line, without the log's time and place. */
function tidied(words: string): string {
  const lines = words
    .split("\n")
    .map((line) => line.replace(/^\[[^\]]*\]\s*/, "").trim())
    .filter((line) => line !== "");
  const telling = lines.find((line) => /error|cannot|failed|not found|denied/i.test(line)) ?? lines.at(-1) ?? "";
  return telling.slice(0, 300);
}
