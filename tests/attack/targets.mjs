// What the long attack is aimed at. Each takes bytes and throws only for a fault of the program.
import { readdirSync, readFileSync } from "node:fs";
import { gzipSync } from "node:zlib";

const root = new URL("../../", import.meta.url);
const built = (path) => import(new URL(path, process.env.TARELINE_DIST ?? new URL("dist/", root)).href);

const sample = (path) => readFileSync(new URL(`sample-input/${path}`, root));
const head = (bytes, lines) => Buffer.from(bytes.toString("latin1").split("\n").slice(0, lines).join("\n"), "latin1");

/** Smaller than the program's own, so that a run of the attack stays short. */
const limits = {
  packedBytes: 10_000_000,
  unpackedBytes: 20_000_000,
  partBytes: 10_000_000,
  entries: 1000,
  cells: 1_000_000,
  texts: 100_000,
  sheetCells: 1_000_000,
  sheetRows: 1_048_576,
  sheetColumns: 16_384,
};

async function reader() {
  const [{ readData }, { InputError }, { recognisesName }, { describe }, { draft }, { usualLimits }] =
    await Promise.all(
      [
        "read/read-data.js",
        "read/problem.js",
        "columns/column-names.js",
        "describe/describe.js",
        "describe/draft.js",
        "read/limits.js",
      ].map(built),
    );
  const five = "same-survey-five-ways";
  const text = head(sample(`${five}/comma.csv`), 30);
  return {
    seeds: [
      text,
      head(sample("quillmar.csv"), 25),
      head(sample(`${five}/semicolon.csv`), 30),
      Buffer.from(`\ufeff${text.toString("utf8")}`, "utf16le"),
      gzipSync(text),
      ...["form.zip", "workbook.xlsx", "merged.parquet"].map((name) => sample(`${five}/${name}`)),
    ],
    async run(bytes) {
      try {
        const options = { recognises: recognisesName, limits: { ...usualLimits, ...limits } };
        const table = await readData(new Uint8Array(bytes), "data.csv", options);
        draft(table, (said) => (typeof said === "string" ? said : said.id));
        describe(table, null, { today: 20_480 });
        return "read";
      } catch (error) {
        if (error instanceof InputError && error.problems.length > 0) return "refused";
        throw error;
      }
    },
  };
}

async function settings() {
  const [
    { parseSurveyFile },
    { parseSettings },
    { InputError },
    compare,
    { roleSpecs, namedColumns, dataFileOf, clusterListOf },
  ] = await Promise.all(
    [
      "settings/survey-file.js",
      "settings/settings-file.js",
      "read/problem.js",
      "compare/compare-settings.js",
      "settings/survey-file.js",
    ].map(built),
  );
  const folders = [".", "same-survey-five-ways", "two-rounds", "twelve-districts"];
  const seeds = folders.flatMap((folder) =>
    readdirSync(new URL(`sample-input/${folder}`, root))
      .filter((name) => /^(?:compare|quillmar|form|comma|yundeth).*\.yaml$/.test(name))
      .map((name) => head(sample(`${folder}/${name}`), 60)),
  );
  const kind = { schema: compare.compareFileSchema, jsonSchema: compare.compareFileJsonSchema, cross: () => [] };
  const answer = (run) => {
    try {
      run();
      return "read";
    } catch (error) {
      if (error instanceof InputError && error.problems.length > 0) return "refused";
      throw error;
    }
  };
  return {
    seeds,
    async run(bytes) {
      const text = bytes.toString("utf8");
      const asSurvey = answer(() => {
        const survey = parseSurveyFile(text, "survey.yaml");
        roleSpecs(survey.values);
        namedColumns(survey);
        dataFileOf(survey);
        clusterListOf(survey);
      });
      const asComparison = answer(() => parseSettings(text, "compare.yaml", kind));
      return asSurvey === "read" || asComparison === "read" ? "read" : "refused";
    },
  };
}

/** Results and a comparison as files that somebody hands in: read, refused, or found to fit the schema, and told where not. */
async function json() {
  const [
    { readData },
    { buildReport },
    { buildComparison },
    { parsedJson },
    { readSurvey, chooseSurveys },
    { migrated },
  ] = await Promise.all(
    [
      "read/read-data.js",
      "report.js",
      "compare.js",
      "cli/json-text.js",
      "compare/read-summary.js",
      "compare/migrate.js",
    ].map(built),
  );
  const [{ resultsSchema }, { comparisonSchema }, { plainSettings }, { recognisesName }] = await Promise.all(
    ["results/schema.js", "results/comparison.js", "compare/compare-settings.js", "columns/column-names.js"].map(built),
  );
  const known = { place: null, round: null, group: null, population: null, clustersRevisited: false };
  const files = ["quillmar.csv", "quillmar-clean.csv"];
  const results = [];
  for (const file of files) {
    const table = await readData(new Uint8Array(head(sample(file), 80)), file, { recognises: recognisesName });
    const input = { table, surveyFile: null, settingsSha256: null, date: null, version: "0" };
    results.push(buildReport(input).results);
  }
  const read = results.map((one, i) => readSurvey(one, { ...known, file: files[i], sha256: String(i) }));
  const settings = plainSettings(files, { name: "c", title: "c", language: "en" });
  const comparison = buildComparison({ ...chooseSurveys(read), settings, date: null, version: "0" });
  const seeds = [...results, comparison].map((one) => Buffer.from(JSON.stringify(one)));
  return {
    seeds,
    async run(bytes) {
      const found = parsedJson(bytes.toString("utf8"));
      if (found === null) return "refused";
      const survey = readSurvey(found.raw, { ...known, file: "a.json", sha256: "0" });
      const raw = migrated(found.raw);
      const fits = [resultsSchema, comparisonSchema].some((schema) => schema.safeParse(raw).success);
      return fits || !("refused" in survey) ? "read" : "refused";
    },
  };
}

export const targets = { reader, settings, json };
