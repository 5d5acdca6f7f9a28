// The long attack, started by hand: `npm run attack [seconds a target] [seed]`. Inputs are changed again and again; what reaches new
// places of the program is kept and changed further. A fault, a hang (10 s of computing) or growing memory ends it with exit code 1.
import { mkdirSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { isMainThread, parentPort, Worker, workerData } from "node:worker_threads";
import { CoverageGuide } from "./coverage-guide.mjs";
import { mutated, randomFrom } from "./mutations.mjs";
import { targets } from "./targets.mjs";

const mostBytes = 400_000;
const hangSeconds = 10;
const mostKeptBytes = 60_000;

async function attackIn({ target, seconds, seed, shared }) {
  const { seeds, run } = await targets[target]();
  const guide = new CoverageGuide();
  const random = randomFrom(seed);
  const corpus = [...seeds];
  const counts = { runs: 0, read: 0, refused: 0, kept: 0 };
  const faults = new Map();
  const place = Buffer.from(shared, 8);
  const clock = new Int32Array(shared, 0, 2);
  let slowest = 0;
  const once = async (bytes) => {
    bytes.copy(place);
    Atomics.store(clock, 1, bytes.length);
    Atomics.add(clock, 0, 1);
    counts.runs += 1;
    const from = performance.now();
    try {
      counts[await run(bytes)] += 1;
    } catch (error) {
      const key = String(error?.stack ?? error)
        .split("\n")
        .slice(0, 3)
        .join(" | ");
      if (!faults.has(key)) faults.set(key, bytes);
    }
    slowest = Math.max(slowest, performance.now() - from);
  };
  for (const bytes of seeds) await once(bytes);
  guide.news();
  const end = Date.now() + seconds * 1000;
  while (Date.now() < end) {
    const bytes = Buffer.from(mutated(random.of(corpus), random.of(corpus), random).subarray(0, mostBytes));
    await once(bytes);
    if (guide.news() === 0 || bytes.length > mostKeptBytes) continue;
    corpus.push(bytes);
    counts.kept += 1;
  }
  parentPort.postMessage({ counts, reached: guide.reached, slowest, faults: [...faults] });
}

function save(target, what, bytes) {
  const folder = join(tmpdir(), "tareline-attack");
  mkdirSync(folder, { recursive: true });
  const path = join(folder, `${target}-${what}`);
  writeFileSync(path, bytes);
  return path;
}

/** Runs one target in a thread of its own; a thread that no longer moves has hung. */
function attack(target, seconds, seed) {
  const shared = new SharedArrayBuffer(8 + mostBytes);
  const worker = new Worker(new URL(import.meta.url), {
    workerData: { target, seconds, seed, shared },
    resourceLimits: { maxOldGenerationSizeMb: 1500 },
  });
  const clock = new Int32Array(shared, 0, 2);
  return new Promise((resolve) => {
    // Computing time, not the clock: a busy machine makes anything look like a hang.
    const computed = () => process.cpuUsage().user / 1e6;
    let [last, since] = [-1, computed()];
    const watch = setInterval(() => {
      const now = Atomics.load(clock, 0);
      if (now !== last) [last, since] = [now, computed()];
      if (computed() - since < hangSeconds) return;
      const path = save(target, "hang", Buffer.from(shared, 8, Atomics.load(clock, 1)));
      worker.terminate();
      finish({ runs: now, failed: `hangs: ${path}` });
    }, 500);
    const finish = (outcome) => {
      clearInterval(watch);
      resolve(outcome);
    };
    worker.on("error", (error) => {
      const path = save(target, "died", Buffer.from(shared, 8, Atomics.load(clock, 1)));
      finish({ runs: Atomics.load(clock, 0), failed: `${error.message}: ${path}` });
    });
    worker.on("message", ({ faults, ...rest }) => {
      const paths = faults.map(([key, bytes], i) => `${key}\n    ${save(target, `fault-${i}`, bytes)}`);
      finish({ ...rest, ...(paths.length > 0 ? { failed: paths.join("\n") } : {}) });
    });
  });
}

async function attackAll() {
  const [seconds = "300", seed = "1", ...only] = process.argv.slice(2);
  for (const target of only.length > 0 ? only : Object.keys(targets)) {
    const { failed, ...counted } = await attack(target, Number(seconds), Number(seed));
    console.log(target, JSON.stringify(counted));
    if (failed === undefined) continue;
    console.error(failed);
    process.exitCode = 1;
  }
}

if (isMainThread) await attackAll();
else await attackIn(workerData);
