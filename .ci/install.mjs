// Installs the locked dependencies when they are missing or older than the lock file; otherwise does nothing.
import { execSync } from "node:child_process";
import { createHash } from "node:crypto";
import { existsSync, readFileSync, writeFileSync } from "node:fs";

const hash = createHash("sha256").update(readFileSync("package-lock.json")).digest("hex");
const stamp = "node_modules/.tareline-lock";
const installed = existsSync(stamp) && readFileSync(stamp, "utf8") === hash;
if (!installed) {
  console.error("Installing what Tareline needs (once, about a minute) ...");
  execSync("npm ci --no-audit --no-fund --loglevel=error", { stdio: ["ignore", "ignore", "inherit"] });
  writeFileSync(stamp, hash);
}
