// Speed of every stage beside the floor of the same run, for `npm run bench`. The suites are TypeScript; what they take
// from src comes from dist, so that the built code is measured.
import { existsSync } from "node:fs";
import { dirname, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { withSource } from "../tools/load-source.mjs";

const root = fileURLToPath(new URL("../../", import.meta.url));
const source = resolve(root, "src");

/** Sends imports of src/<path>.js to dist/<path>.js, unchanged by vite. */
const builtCode = {
  name: "built-code",
  enforce: "pre",
  resolveId(id, importer) {
    if (importer === undefined || !id.startsWith(".")) return null;
    const path = resolve(dirname(importer), id);
    if (!path.startsWith(source)) return null;
    const built = path.replace(source, resolve(root, "dist"));
    if (!existsSync(built)) throw new Error(`${built} is not there: run the build first.`);
    return { id: built, external: true };
  },
};

await withSource("/tests/bench/main.ts", ({ runBench }) => runBench(process.argv.slice(2)), [builtCode]);
