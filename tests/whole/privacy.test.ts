import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { parse } from "csv-parse/sync";
import { getDocument, VerbosityLevel } from "pdfjs-dist/legacy/build/pdf.mjs";
import { describe, expect, it } from "vitest";
import { loadInput } from "../../src/cli/input.js";
import { call, emptyFolder } from "../cli/run-here.js";
import { filesIn } from "./program.js";

const sampleFile = (name: string): string =>
  readFileSync(join(import.meta.dirname, "../../sample-input", name), "utf8");

/** A file of the sample; of the settings only what concerns the data file itself. */
const sample = (name: string): string => sampleFile(name).replace(/^(?:clusters|planned):\n(?:[ ].*\n)+/gm, "");

/** Whatever must not come out holds one of these. */
const marked = /zq[a-z]+|0799 ?55|\b12\.3456|\b45\.6789/i;

/** The clean sample with people in it: in cells, in column names, in the names of teams and of clusters. */
function withPeople(options: { readonly spoiled?: boolean } = {}): string {
  const [header = "", ...rows] = sample("quillmar-clean.csv").trimEnd().split("\n");
  const at = (name: string): number => header.split(",").indexOf(name);
  const added = [
    "telephone de Zqmother 0799 55",
    "gps_zqlatitude",
    "gps/longitude",
    "comments (ask Zqenumerator)",
    "respondent",
  ];
  const lines = rows.map((row, i) => {
    const cells = row.split(",");
    cells[at("child/first_name")] = `Zqchild${i}`;
    cells[at("carer/phone")] = `0799 55${i}`;
    cells[at("visit/team_code")] = `Zqleader ${"ABCDEFG"[Number((cells[at("visit/team_code")] ?? "T1").slice(1))]}mina`;
    cells[at("place/cluster_no")] = `Zqvillage ${cells[at("place/cluster_no")]}`;
    // Two slips, so that rows are listed, and one mistake that stops the run.
    if (i === 3) cells[at("child/weight_kg")] = "66";
    if (i === 9) cells[at("child/weight_kg")] = "1.31";
    if (i === 5 && options.spoiled === true) cells[at("child/weight_kg")] = "heavy";
    return [...cells, `Zqphone${i}`, "12.3456", "45.6789", `"Zqtext, ""quoted"" ${i}"`, `Zqcarer${i}`].join(",");
  });
  return [`${header},${added.join(",")}`, ...lines, ""].join("\n");
}

const yamlWith = (more: string): string => `${sample("quillmar-clean.yaml")}${more}`;

interface Made {
  readonly code: number;
  readonly said: string;
  readonly files: ReadonlyMap<string, Buffer>;
}

async function make(csv: string | Buffer, yaml: string | null, ...options: readonly string[]): Promise<Made> {
  const folder = emptyFolder();
  writeFileSync(join(folder, "quillmar-clean.csv"), csv);
  if (yaml !== null) writeFileSync(join(folder, "survey.yaml"), yaml);
  const out = join(folder, "out");
  const input = join(folder, yaml === null ? "quillmar-clean.csv" : "survey.yaml");
  const { code, out: printed, err } = await call(["report", input, "--out", out, ...options]);
  return { code, said: printed + err, files: existsSync(out) ? filesIn(out) : new Map() };
}

/** Everything that a reader of the PDF can get at: text, bookmarks, what the file says of itself, alternative texts. */
async function pdfTexts(pdf: Buffer): Promise<string> {
  const document = await getDocument({ data: Uint8Array.from(pdf), verbosity: VerbosityLevel.ERRORS }).promise;
  const pages = Array.from({ length: document.numPages }, async (_, i) => {
    const page = await document.getPage(i + 1);
    const { items } = await page.getTextContent();
    const texts = items.map((item) => ("str" in item ? item.str : "")).join(" ");
    return `${texts}\n${JSON.stringify(await page.getStructTree())}\n${JSON.stringify(await page.getAnnotations())}`;
  });
  const { info, metadata } = await document.getMetadata();
  const about = [info, metadata?.getRaw() ?? "", await document.getOutline()].map((one) => JSON.stringify(one));
  return [...(await Promise.all(pages)), ...about].join("\n");
}

/** Embedded fonts are no text, and among so many letters any word turns up. */
const withoutFonts = (text: string): string => text.replace(/data:font[^"')]*/g, "");

const isInternal = (name: string): boolean => /(?:rows-to-check|codes-internal)\.csv$/.test(name);

/** Nothing marked in any file but the internal ones. */
async function expectNobody(files: ReadonlyMap<string, Buffer>, pattern = marked): Promise<void> {
  expect(files.size).toBeGreaterThan(10);
  for (const [name, bytes] of files) {
    expect(name).not.toMatch(pattern);
    if (isInternal(name)) continue;
    const text = name.endsWith(".pdf") ? await pdfTexts(bytes) : withoutFonts(bytes.toString("utf8"));
    expect(text.length, name).toBeGreaterThan(20);
    expect(text.match(pattern)?.[0], name).toBeUndefined();
  }
}

describe("people in the data file", () => {
  it("are really planted", () => expect(withPeople()).toMatch(marked));

  it("do not come out: page, PDF with what it says of itself, results, tables, terminal", async () => {
    const { code, said, files } = await make(withPeople(), sample("quillmar-clean.yaml"));
    expect(code, said).toBe(0);
    expect(said).not.toMatch(marked);
    expect([...files.keys()].some((name) => name.endsWith("report.pdf"))).toBe(true);
    await expectNobody(files);
    // The internal list gives the cluster, for the team that goes back; of the other columns it gives nothing either.
    const rows = files.get("quillmar-clean/rows-to-check.csv")?.toString("utf8") ?? "";
    expect(rows).toContain("1.31");
    expect(rows.replace(/Zqvillage \d+/g, "")).not.toMatch(marked);
  });

  it("do not come out when the columns are found from the data alone", async () => {
    const { code, said, files } = await make(withPeople(), null, "--no-pdf");
    expect(code, said).toBe(0);
    expect(said).not.toMatch(marked);
    await expectNobody(files);
  });

  it("do not come out when the data have problems: neither on the terminal nor in the list of problems", async () => {
    for (const yaml of [sample("quillmar-clean.yaml"), null]) {
      const { code, said, files } = await make(withPeople({ spoiled: true }), yaml);
      expect(code).toBe(2);
      expect(said).toContain("heavy");
      expect(said).not.toMatch(marked);
      expect([...files.keys()]).toEqual([yaml === null ? "quillmar-clean-problems.csv" : "survey-problems.csv"]);
      for (const bytes of files.values()) expect(bytes.toString("utf8")).not.toMatch(marked);
    }
  });

  it("are not in memory after reading: a column that the settings do not name is never kept", async () => {
    const folder = emptyFolder();
    writeFileSync(join(folder, "quillmar-clean.csv"), withPeople());
    writeFileSync(join(folder, "survey.yaml"), sample("quillmar-clean.yaml"));
    const { table } = await loadInput(join(folder, "survey.yaml"), {});
    const cells = table.columns.flatMap((column) => column.values);
    expect(cells).toContain("66");
    expect(cells.filter((text) => /zq(?:child|phone|text|carer)|0799 55|12\.3456|45\.6789/i.test(text))).toEqual([]);
  });

  it("do not come out through the word that shows an assumed encoding, unless it is a used column's own name", async () => {
    const text = withPeople().replace("telephone de Zqmother", "t\u00e9l\u00e9phone_de_Zqm\u00e8re");
    const { code, said, files } = await make(Buffer.from(text, "latin1"), sample("quillmar-clean.yaml"), "--no-pdf");
    expect(code, said).toBe(0);
    const results = files.get("quillmar-clean/results.json")?.toString("utf8") ?? "";
    expect(results).toContain("input.note.encoding-assumed");
    expect(said + results).not.toMatch(/t\u00e9l\u00e9phone/);
    await expectNobody(files);
  });
});

describe("codes in place of labels", () => {
  /** The sample with labels that are printed as they stand: numbers and letters. */
  const plain = sample("quillmar-clean.csv");
  const teamsIn = (files: Made["files"]): string[] => {
    const results = JSON.parse(files.get("quillmar-clean/results.json")?.toString("utf8") ?? "") as {
      estimates: { subgroups: { by: string; cells: { label: string; n: number }[] }[] }[];
    };
    const team = results.estimates[0]?.subgroups.find(({ by }) => by === "team");
    return team?.cells.map(({ label, n }) => `${label}: ${n}`).sort() ?? [];
  };
  const keyOf = (files: Made["files"]): Record<string, string> => {
    const lines = parse(files.get("quillmar-clean/codes-internal.csv") ?? "", { bom: true }) as string[][];
    return Object.fromEntries(lines.slice(1).map(([, what, code, label]) => [`${what} ${label}`, code ?? ""]));
  };

  it("teams and clusters by settings or by option, the key in an internal file alone", async () => {
    const csv = plain.replaceAll(/,T(\d),/g, ",9$1$1$1$1,");
    const bySettings = await make(csv, yamlWith("\nprivacy:\n  clusters: codes\n  teams: codes\n"), "--no-pdf");
    const byOption = await make(csv, sample("quillmar-clean.yaml"), "--no-pdf", "--codes", "both");
    const none = await make(csv, sample("quillmar-clean.yaml"), "--no-pdf");
    expect([bySettings.code, byOption.code, none.code]).toEqual([0, 0, 0]);
    const page = (made: Made): string => made.files.get("quillmar-clean/report.html")?.toString("utf8") ?? "";
    expect(page(none)).toMatch(/\b9(\d)\1{3}\b/);
    await expectNobody(bySettings.files, /(?<![\d.])9(\d)\1{3}(?!\d)/);
    // The page names the settings by their fingerprint.
    const sameBut = (text: string): string => text.replaceAll(/\b[0-9a-f]{64}\b/g, "");
    expect(sameBut(page(byOption))).toBe(sameBut(page(bySettings)));
    expect(none.files.has("quillmar-clean/codes-internal.csv")).toBe(false);
    const key = keyOf(bySettings.files);
    expect(Object.keys(key).filter((label) => /9(\d)\1{3}$/.test(label)).length).toBeGreaterThan(3);
    expect(new Set(Object.values(key)).size).toBe(Object.keys(key).length);
    expect(teamsIn(bySettings.files).every((label) => /^T\d: /.test(label))).toBe(true);
    const internal = bySettings.files
      .get("quillmar-clean/codes-internal.csv")
      ?.toString("utf8")
      .trimEnd()
      .split("\r\n");
    expect(internal?.slice(1).every((line) => line.startsWith("internal,"))).toBe(true);
    const without = await make(csv, sample("quillmar-clean.yaml"), "--no-pdf", "--codes", "both", "--no-rows");
    expect([...without.files.keys()].filter(isInternal)).toEqual([]);
  });

  it("stay the same when rows are sorted, corrected or removed, and change with the secret", async () => {
    const yaml = (secret: string) => yamlWith(`\nprivacy:\n  teams: codes\n  secret: ${secret}\n`);
    const [header = "", ...rows] = plain.trimEnd().split("\n");
    const changed = [header, ...rows.slice(7).reverse()].join("\n").replace(",14.1,", ",14.2,");
    const first = await make(plain, yaml("apricot stone"), "--no-pdf");
    const again = await make(changed, yaml("apricot stone"), "--no-pdf");
    expect(first.code + again.code, first.said + again.said).toBe(0);
    expect(keyOf(again.files)).toEqual(keyOf(first.files));
    const other = await make(plain, yaml("another stone"), "--no-pdf");
    expect(keyOf(other.files)).not.toEqual(keyOf(first.files));
    await expectNobody(first.files, /apricot/);
  });

  it("hold for a subgroup that is the same column", async () => {
    const csv = plain.replaceAll(/,T(\d),/g, ",Zqleader $1,");
    const yaml = yamlWith("\nsubgroups: [visit/team_code]\n");
    const { code, said, files } = await make(csv, yaml, "--no-pdf", "--codes", "teams");
    expect(code, said).toBe(0);
    await expectNobody(files);
  });

  it("without codes, names become letters, and there is no key", async () => {
    const { files } = await make(withPeople(), sample("quillmar-clean.yaml"), "--no-pdf");
    expect(teamsIn(files).every((label) => /^[A-Z]: /.test(label))).toBe(true);
    expect(files.has("quillmar-clean/codes-internal.csv")).toBe(false);
  });
});
