#!/usr/bin/env node
import { loadProgram } from "./compiled-code.js";
import type { startProgram } from "./main.js";

const { startProgram: start } = loadProgram("main") as { startProgram: typeof startProgram };
await start(process.argv.slice(2));
