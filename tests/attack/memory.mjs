// Whether reading leaves anything behind: `node --expose-gc tests/attack/memory.mjs [reads] [seed] [kind]` after a build. Every kind of file
// is read and understood again and again in one process, plain and changed; after every tenth of the reads, what is left in memory
// once all that is unused is gone. Growth of more than 4 kB a read over the last half ends it with exit code 1: code
// that is compiled as it warms up takes as much in the first hundreds of reads, and a file that is kept would take thirty times that.
import { mutated, randomFrom } from "./mutations.mjs";
import { targets } from "./targets.mjs";

const mostBytesARead = 4096;
const [reads = "200", seed = "1", only] = process.argv.slice(2);
const kept = () => {
  globalThis.gc();
  globalThis.gc();
  const { heapUsed, arrayBuffers } = process.memoryUsage();
  return heapUsed + arrayBuffers;
};

/** Bytes left after each tenth of the reads. */
async function heapOver(inputs, run) {
  const left = [];
  for (let i = 1; i <= Number(reads); i++) {
    await run(inputs(i));
    if (i % Math.max(1, Math.floor(Number(reads) / 10)) === 0) left.push(kept());
  }
  return left;
}

if (globalThis.gc === undefined) throw new Error("start with: node --expose-gc");
const { seeds, run } = await targets.reader();
const random = randomFrom(Number(seed));
const kinds = [
  ...seeds.map((bytes, i) => [`file ${i + 1}`, () => bytes]),
  ["changed files", () => mutated(random.of(seeds), random.of(seeds), random)],
];
for (const [name, inputs] of kinds.filter(([name]) => only === undefined || name === only)) {
  const left = await heapOver(inputs, run);
  const half = left.slice(Math.floor(left.length / 2) - 1);
  const growth = (half.at(-1) - half[0]) / (Number(reads) / 2);
  console.log(name, left.map((bytes) => (bytes / 1e6).toFixed(2)).join(" "), "MB;", growth.toFixed(0), "bytes a read");
  if (growth > mostBytesARead) process.exitCode = 1;
}
