// Gathers the built program into few files: Node opens and compiles hundreds of modules one by one, which takes longer than
// computing a survey. The threads keep files of their own beside it. Run after the compiler, which writes the rest of dist.
import { fileURLToPath } from "node:url";
import { build } from "vite";

const root = fileURLToPath(new URL("../", import.meta.url));
const started = ["cli/main", "cli/reading-thread", "render/charts/drawing-thread"];
/** Libraries that look for files of their own beside them. */
const apart = [/^puppeteer/, /^@sparticuz\/chromium/, /^@resvg\/resvg-wasm/];

const input = Object.fromEntries(started.map((path) => [path.replace(/^.*\//, ""), `${root}src/${path}.ts`]));
await build({
  root,
  configFile: false,
  publicDir: false,
  logLevel: "warn",
  ssr: { target: "node", noExternal: true },
  build: {
    ssr: true,
    target: "node20",
    outDir: process.argv[2] ?? `${root}dist/cli`,
    emptyOutDir: false,
    reportCompressedSize: false,
    rolldownOptions: {
      input,
      external: (id) => apart.some((name) => name.test(id)),
      // Less to read: blanks and remarks go, names stay.
      output: {
        minify: { compress: false, mangle: false, codegen: { removeWhitespace: true } },
        entryFileNames: "[name].js",
        chunkFileNames: "part-[name].js",
      },
    },
  },
});
