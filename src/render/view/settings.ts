import { message } from "../../results/message.js";
import type { Results } from "../../results/schema.js";
import type { Words } from "../words.js";
import { makeTable, type TableView, textCell } from "./table.js";

type Settings = Readonly<Record<string, unknown>>;
type Entry = readonly [name: string, value: string];

const record = (value: unknown): Settings | null =>
  value !== null && typeof value === "object" && !Array.isArray(value) ? (value as Settings) : null;

/** Which column of the file was read as what. */
export function columnsTable(results: Results, words: Words): TableView | null {
  const columns = Object.entries(results.settings.columns);
  if (columns.length === 0) return null;
  return listTable(
    "columns",
    columns.map(([role, column]) => [wordOr(`role.${role}`, role, words), plain(column, words)]),
    words,
  );
}

/** Every other setting, by a name one can read; its name in the settings file only where there is no other. */
export function settingsTable(results: { readonly settings: Settings }, words: Words): TableView {
  const { columns: _, ...others } = results.settings;
  // The language is the one drawn now, whatever the survey was first drawn in.
  const drawn = { ...others, ...(others.language === undefined ? {} : { language: words.language }) };
  return listTable("settings", entries(drawn, words), words);
}

function listTable(id: string, rows: readonly Entry[], words: Words): TableView {
  const column = (part: string) => ({ label: words.text(message(`table.${id}.${part}`)), numeric: false });
  return makeTable(
    {
      id,
      caption: words.text(message(`table.${id}.caption`)),
      columns: [column("item"), column("value")],
      notes: [],
    },
    rows.map(([name, value]) => [
      textCell(name),
      textCell(value === "" ? words.text(message("setting.not-given")) : value),
    ]),
  );
}

function entries(settings: Settings, words: Words, before = ""): Entry[] {
  return Object.entries(settings).flatMap(([name, value]): Entry[] => {
    const path = before === "" ? name : `${before}.${name}`;
    if (before === "clustersInPopulation") {
      return [[words.text(message("setting.clusters-in-population.stratum", { stratum: name })), plain(value, words)]];
    }
    if (before === "childrenPerCluster") {
      return [[words.text(message("setting.children-per-cluster.stratum", { stratum: name })), plain(value, words)]];
    }
    if (before === "childrenInPopulation") {
      return [[words.text(message("setting.children-in-population.stratum", { stratum: name })), plain(value, words)]];
    }
    const inner = record(value);
    if (inner !== null) return entries(inner, words, path);
    const id = kebab(path);
    return [[wordOr(`setting.${id}`, path, words), valueText(id, value, words)]];
  });
}

/** The value in words where a choice has some, else as it was set. */
function valueText(id: string, value: unknown, words: Words): string {
  if (typeof value === "string") return wordOr(`setting.${id}.${value}`, value, words);
  if (typeof value === "number" && words.has(`setting.${id}.value`)) {
    return words.text(message(`setting.${id}.value`, { value }));
  }
  return plain(value, words);
}

function plain(value: unknown, words: Words): string {
  if (value === null || value === undefined) return "";
  if (typeof value === "boolean") return words.text(message(value ? "word.yes" : "word.no"));
  if (Array.isArray(value)) {
    return words.list(value.map((each) => words.text(typeof each === "object" ? JSON.stringify(each) : String(each))));
  }
  if (typeof value === "number" && !Number.isInteger(value)) return fraction(value, words);
  return words.text(String(value));
}

/** With the decimals it was given, and the language's own sign before them. */
const fraction = (value: number, words: Words): string =>
  words.tick(value, "statistic", String(value).split(".")[1]?.length ?? 0);

const wordOr = (id: string, otherwise: string, words: Words): string =>
  words.has(id) ? words.text(message(id)) : otherwise;

/** 'exclusions.widthAroundMean' as the end of a message id. */
const kebab = (path: string): string => path.replace(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`);
