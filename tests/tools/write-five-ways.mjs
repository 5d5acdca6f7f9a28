// Writes sample-input/same-survey-five-ways anew: one invented survey in five kinds of files, each with its settings.
import { mkdirSync, writeFileSync } from "node:fs";
import { withSource } from "./load-source.mjs";

const folder = new URL("../../sample-input/same-survey-five-ways/", import.meta.url);
await withSource("/tests/whole/five-ways-files.ts", ({ fiveWaysFiles }) => {
  mkdirSync(folder, { recursive: true });
  for (const { name, content } of fiveWaysFiles()) writeFileSync(new URL(name, folder), content);
});
