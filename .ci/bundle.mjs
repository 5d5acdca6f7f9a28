// Gathers the built program into few files of dist/bundle: Node opens and compiles hundreds of modules one by one, which takes
// longer than computing a survey. The threads have files of their own. Run after the compiler.
import { rmSync } from "node:fs";
import { fileURLToPath } from "node:url";
import Handlebars from "handlebars";
import { build } from "vite";

const root = fileURLToPath(new URL("../", import.meta.url));
const { compileOptions, pageFolders, pageParts } = await import("../dist/render/page-parts.js");
const files = {
  main: "cli/main",
  "drawing-thread": "render/charts/drawing-thread",
};
/** Libraries that look for files of their own beside them. */
const apart = [/^puppeteer/, /^@sparticuz\/chromium/, /^@resvg\/resvg-wasm/];

/** A page's templates as code: reading and compiling them takes longer than filling them in. */
function compiledPage(folder) {
  const { page, parts } = pageParts(folder);
  const code = (text) => Handlebars.precompile(text, compileOptions);
  const named = parts.map(({ name, text }) => `${JSON.stringify(name)}: ${code(text)}`);
  return `${JSON.stringify(folder)}: { page: ${code(page)}, parts: { ${named.join(",\n")} } }`;
}

const { compiledPlan } = await import("../dist/render/charts/compiled-plan.js");

/** Modules that compile something at each start, and what stands in their place: the same compiled. */
const compiled = {
  "render/load-template": `import Handlebars from "handlebars";
const pages = { ${pageFolders.map(compiledPage).join(",\n")} };
export function loadTemplate(folder) {
  const handlebars = Handlebars.create();
  const { page, parts } = pages[folder];
  for (const [name, part] of Object.entries(parts)) handlebars.registerPartial(name, handlebars.template(part));
  return handlebars.template(page);
}`,
  "render/charts/compiled-plan": `const plan = ${JSON.stringify(await compiledPlan())};
export const compiledPlan = () => Promise.resolve(plan);`,
};
const putCompiled = {
  name: "put-compiled",
  enforce: "pre",
  load: (id) => Object.entries(compiled).find(([path]) => id === `${root}src/${path}.ts`)?.[1] ?? null,
};

const out = `${root}dist/bundle`;
rmSync(out, { recursive: true, force: true });
await build({
  root,
  configFile: false,
  publicDir: false,
  logLevel: "warn",
  plugins: [putCompiled],
  resolve: {
    alias: {
      handlebars: `${root}node_modules/handlebars/dist/cjs/handlebars.runtime.js`,
      // The other one waits for a library that is not installed.
      "vega-canvas": `${root}node_modules/vega-canvas/build/vega-canvas.browser.js`,
    },
  },
  ssr: { target: "node", noExternal: true },
  build: {
    ssr: true,
    target: "node20",
    outDir: out,
    reportCompressedSize: false,
    rolldownOptions: {
      input: Object.fromEntries(Object.entries(files).map(([name, path]) => [name, `${root}src/${path}.ts`])),
      external: (id) => apart.some((name) => name.test(id)),
      output: {
        // What compiled code can be kept for.
        format: "cjs",
        // What code that is not a module may ask for without a warning.
        dynamicImportInCjs: false,
        // Less to read: blanks and remarks go, names stay.
        minify: { compress: false, mangle: false, codegen: { removeWhitespace: true } },
        entryFileNames: "[name].cjs",
        chunkFileNames: "part-[name].cjs",
      },
    },
  },
});
