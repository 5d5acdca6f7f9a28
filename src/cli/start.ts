#!/usr/bin/env node
import { startProgram } from "./main.js";

await startProgram(process.argv.slice(2));
