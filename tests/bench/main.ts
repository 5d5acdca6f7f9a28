import type { Bench } from "tinybench";
import { measureStages, type StageTime } from "./stages.js";

const small = 1_000;
const large = 100_000;
/** Beyond this a hundred times the children cost clearly more than a hundred times the time. */
const mostGrowth = 130;

function milliseconds(value: number | undefined): string {
  if (value === undefined) return "-";
  return value < 10 ? value.toFixed(2) : value.toFixed(0);
}

function line(cells: readonly string[]): string {
  const [name = "", ...rest] = cells;
  return name.padEnd(14) + rest.map((cell) => cell.padStart(14)).join("");
}

function stageTable(few: readonly StageTime[], many: readonly StageTime[]): string {
  const floorOf = (times: readonly StageTime[]): number => times[0]?.median ?? Number.NaN;
  const rows = few.map(({ stage, median }, i) => {
    const at = many[i]?.median;
    const growth = at === undefined ? undefined : at / median;
    const flag = growth !== undefined && growth > mostGrowth ? " !" : "";
    return line([
      stage,
      milliseconds(median),
      (median / floorOf(few)).toFixed(1),
      milliseconds(at),
      at === undefined ? "-" : (at / floorOf(many)).toFixed(1),
      growth === undefined ? "-" : `${growth.toFixed(0)}${flag}`,
    ]);
  });
  const head = line(["stage", `ms at ${small}`, "to floor", `ms at ${large}`, "to floor", "growth"]);
  return [head, ...rows].join("\n");
}

async function suite(bench: Bench): Promise<string> {
  await bench.run();
  const rows = bench.tasks.map((task) => {
    const { result } = task;
    const median = "latency" in result ? result.latency.p50 : undefined;
    return `${task.name.padEnd(70)}${milliseconds(median).padStart(10)} ms`;
  });
  return [`${bench.name ?? "suite"} (median)`, ...rows].join("\n");
}

const log = (text: string): void => void process.stdout.write(`${text}\n`);

/** `npm run bench`, or with names: any of budget, stages, scores, consequence, compare. */
export async function runBench(wanted: readonly string[]): Promise<void> {
  const asked = (name: string): boolean => wanted.length === 0 || wanted.includes(name);
  if (asked("budget")) log(`${(await import("./budget.bench.js")).budgetBench()}\n`);
  if (asked("stages")) {
    log(
      `Floor: csv-parse alone on the same bytes, in the same run. Growth: how many times the time for ${large / small} times the children.`,
    );
    const few = await measureStages({ size: small, clusters: 40, withPdf: true });
    const many = await measureStages({ size: large, clusters: 4_000, withPdf: true });
    log(stageTable(few, many));
  }
  if (asked("scores")) log(`\n${await suite((await import("./scores.bench.js")).scoresBench)}`);
  if (asked("consequence")) log(`\n${await suite((await import("./consequence.bench.js")).consequenceBench)}`);
  if (asked("compare")) log(`\n${await (await import("./compare.bench.js")).compareBench()}`);
}
