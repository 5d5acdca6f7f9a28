import type { Table } from "../results/schema.js";
import { separatorsOf, tableToCsv } from "./csv.js";
import { tableDictionary } from "./table-dictionary.js";
import type { Words } from "./words.js";
import type { OutputFile } from "./write.js";

/** Tables as CSV in the form that the language's spreadsheets read, with a text that says what each of their columns holds. */
export function tableFiles(tables: readonly Table[], title: string, words: Words): OutputFile[] {
  const separators = separatorsOf(words.language);
  const files = tables.map((table) => ({
    name: `tables/${table.id}.csv`,
    content: tableToCsv(table, (message) => words.text(message), separators),
  }));
  return [...files, { name: "tables/README.txt", content: tableDictionary(tables, title, separators, words) }];
}
