// The attack on what is published, on all 300 random surveys: a part of `npm run attack`.
import { spawnSync } from "node:child_process";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

const root = fileURLToPath(new URL("../../", import.meta.url));
const vitest = join(dirname(fileURLToPath(import.meta.resolve("vitest/package.json"))), "vitest.mjs");
const args = ["run", "--config", "tests/vitest.config.ts", "--root", ".", "tests/attack/privacy.test.ts"];
const environment = { ...process.env, SURVEYS: "300" };
const { status } = spawnSync(process.execPath, [vitest, ...args], { cwd: root, env: environment, stdio: "inherit" });
process.exitCode = status ?? 1;
